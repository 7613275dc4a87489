package dev.plumbline.toolchain;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What is taken out of the code that Verilator writes, and what is read out of it. */
class GeneratedCodeTest {
  private static final String EVALUATION =
      """
      void Vdut::eval_step() {
          // MTask 0 start
          Verilated::mtaskId(0);
          Vdut___024root___eval(&(vlSymsp->TOP));
          Verilated::endOfThreadMTask(vlSymsp->__Vm_evalMsgQp);
          Verilated::endOfEval(vlSymsp->__Vm_evalMsgQp);
      }
      """;

  @TempDir private Path folder;

  @Test
  void callsForThreadsGoWhereThereIsOne() {
    assertEquals(
        List.of(
            "void Vdut::eval_step() {",
            "// MTask 0 start",
            "",
            "Vdut___024root___eval(&(vlSymsp->TOP));",
            "",
            "",
            "}"),
        OneThread.of(EVALUATION).lines().map(String::strip).toList());
  }

  @Test
  void callsForThreadsStayWhereThereAreSeveral() {
    String several = EVALUATION + "void other() { Verilated::mtaskId(7); }\n";
    assertEquals(several, OneThread.of(several));
  }

  /** As 5.006 writes it; other code, or more turns by an argument, asks in every loop. */
  @ParameterizedTest
  @CsvSource({
    "if (VL_UNLIKELY((0x64U < vlSelf->__VactIterCount))) {, true",
    "if (VL_UNLIKELY((0x2710U < __VnbaIterCount))) {, true",
    "if (VL_UNLIKELY((0x7fffffffU < __VnbaIterCount))) {, false",
    "if (VL_UNLIKELY((kMost < __VnbaIterCount))) {, false"
  })
  void evaluationsSettleSoonIfAllGiveUpAfterFewTurns(String line, boolean soon) throws IOException {
    Files.writeString(folder.resolve("Vdut.cpp"), "if ((0x64U < __VstlIterCount)) {\n");
    assertEquals(true, Generated.in(folder).settlesSoon());
    Files.writeString(folder.resolve("Vdut__1.cpp"), line);
    Files.delete(folder.resolve("Vdut.cpp"));
    assertEquals(soon, Generated.in(folder).settlesSoon());
  }
}
