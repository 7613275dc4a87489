package dev.plumbline.faults;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.toolchain.BuildOptions;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class FaultTest {
  private static final String TOP =
      """
      `include "units/steps.svh"
      module crank (input logic [7:0] in_turns, output logic [7:0] out_steps);
        arm arm (.in(in_turns), .out(out_steps));
      endmodule
      """;
  private static final String ARM =
      """
      `include "units/steps.svh"
      module arm (input logic [7:0] in, output logic [7:0] out);
        assign out = in * `STEPS;
      endmodule
      """;

  @TempDir Path folder;
  private Path rtl;
  private RtlSource crank;

  @BeforeEach
  void writeRtl() throws IOException {
    rtl = Files.createDirectories(folder.resolve("rtl"));
    Files.createDirectories(rtl.resolve("units"));
    Files.writeString(rtl.resolve("units/steps.svh"), "`ifndef STEPS\n`define STEPS 3\n`endif\n");
    Files.writeString(rtl.resolve("arm.sv"), ARM);
    Files.writeString(rtl.resolve("crank.sv"), TOP);
    crank =
        RtlSource.of(rtl.resolve("crank.sv"))
            .withTop("crank")
            .withIncludeFolder(rtl)
            .withLibraryFolder(rtl);
  }

  private static long stepsOf(RtlSource source, long turns) {
    BuildOptions quick = BuildOptions.defaults().withOptimisation(false);
    try (Dut dut = CompiledDesign.of(source, quick).open()) {
      dut.set("in_turns", turns);
      dut.cycle();
      return dut.get("out_steps");
    }
  }

  private RtlSource planted(Fault fault) {
    return fault.plantedIn(crank, folder.resolve(fault.name()));
  }

  @Test
  @Tag("thorough")
  void faultsInASourceFileALibraryModuleAndAnIncludedFileAllShow() throws IOException {
    assertEquals(15, stepsOf(crank, 5));
    assertEquals(
        12, stepsOf(planted(Fault.of("top", "crank.sv", ".in(in_turns)", ".in(8'd4)")), 5));
    assertEquals(8, stepsOf(planted(Fault.of("arm", "arm.sv", "in *", "in +")), 5));
    assertEquals(
        20, stepsOf(planted(Fault.of("unit", "units/steps.svh", "STEPS 3", "STEPS 4")), 5));

    assertEquals(ARM, Files.readString(rtl.resolve("arm.sv")), "the RTL itself stays");
    assertEquals(15, stepsOf(crank, 5));
  }

  @Test
  @Tag("thorough")
  void severalChangesAreMadeOneAfterTheOther() {
    Fault fault = Fault.of("two", "arm.sv", "in * `STEPS", "in + 8'd9").and("8'd9", "8'd1");
    assertEquals(6, stepsOf(planted(fault), 5));
  }

  @Test
  void everythingButTheFileIsAsItWas() {
    RtlSource source = crank.withParameter("W", "8").withDefine("SYNTHESIS", "");
    Path copies = folder.resolve("copies");
    RtlSource planted = Fault.of("arm", "arm.sv", "in *", "in +").plantedIn(source, copies);

    assertEquals(source.files(), planted.files());
    assertEquals(source.top(), planted.top());
    assertEquals(source.parameters(), planted.parameters());
    assertEquals(source.defines(), planted.defines());
    assertEquals(List.of(copies, rtl), planted.includeFolders());
    assertEquals(List.of(copies, rtl), planted.libraryFolders());
  }

  @Test
  void aTextThatStandsNowhereOrTwiceIsRefusedAndNothingIsWritten() {
    Fault gone = Fault.of("gone", "arm.sv", "in /", "in +");
    FaultException refusal = assertThrows(FaultException.class, () -> planted(gone));
    assertEquals(
        "Fault \"gone\" cannot be planted: its original text stands nowhere in "
            + rtl.resolve("arm.sv")
            + ", and must stand there once; follow the change of the RTL. The text is:"
            + System.lineSeparator()
            + "in /",
        refusal.getMessage());
    Fault twice = Fault.of("twice", "arm.sv", "logic", "wire");
    refusal = assertThrows(FaultException.class, () -> planted(twice));
    assertTrue(refusal.getMessage().contains(" stands more than once in "), refusal::getMessage);
    assertTrue(Files.notExists(folder.resolve("gone")));
  }

  @Test
  void aFileThatTheRtlIsNotReadFromIsRefused() {
    Fault lost = Fault.of("lost", "leg.sv", "a", "b");
    FaultException refusal = assertThrows(FaultException.class, () -> planted(lost));
    assertTrue(refusal.getMessage().contains("there is no leg.sv among the files "));
  }
}
