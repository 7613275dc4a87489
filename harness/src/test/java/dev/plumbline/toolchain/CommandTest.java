package dev.plumbline.toolchain;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.rtl.RtlException;
import dev.plumbline.rtl.RtlSource;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Programs that take long, that claim what they have not done, and that fail. */
class CommandTest {
  @TempDir private Path folder;

  private Command shell(String script) {
    return Command.start(folder.resolve("log"), List.of("/bin/sh", "-c", script));
  }

  @Test
  void whoWaitsLongIsToldWhatFor() {
    Path go = folder.resolve("go");
    ByteArrayOutputStream out =
        new ByteArrayOutputStream() {
          @Override
          public synchronized void write(byte[] from, int at, int length) {
            super.write(from, at, length);
            // The program ends as soon as something was said.
            go.toFile().mkdir();
          }
        };
    PrintStream console = new PrintStream(out, true, StandardCharsets.UTF_8);

    Command.Outcome outcome =
        shell("until [ -e '" + go + "' ]; do sleep 0.05; done")
            .await("compiling module dial", Duration.ofMillis(100), console);

    assertTrue(outcome.succeeded(), outcome.output());
    String said = out.toString(StandardCharsets.UTF_8);
    assertTrue(said.startsWith("Plumbline: compiling module dial, "), said);
  }

  @Test
  void whoDoesNotWaitIsToldNothing() {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    shell("exit 0").await("nothing", Duration.ofHours(1), new PrintStream(out, true));
    assertEquals(0, out.size());
  }

  /** A compiler that is ended leaves its files there, which go with the folder. */
  @Test
  void whatIsWrittenAsideIsBesideTheLog() throws IOException {
    Command.Outcome outcome = shell("mktemp").await();

    assertEquals(folder.toRealPath(), Path.of(outcome.output().strip()).toRealPath().getParent());
  }

  @Test
  void aProgramThatWritesNothingIsToldByItsName() {
    Command.Outcome outcome = shell("echo out of luck").await();

    ToolchainException failed =
        assertThrows(
            ToolchainException.class, () -> outcome.requireFile(folder.resolve("model.so")));

    assertEquals(
        "/bin/sh ended with status 0 but did not write model.so; it printed: out of luck. Install"
            + " it anew, or name another by -Dplumbline.verilator=FILE or -Dplumbline.cxx=FILE.",
        failed.getMessage());
  }

  @Test
  void whatTheCompilerRefusesIsToldByItsFirstErrorsAndTheLineOfTheSource() throws IOException {
    Path source =
        Files.writeString(folder.resolve("dial.sv"), "\n\nfunction quad spread(input x);\n");
    StringBuilder output = new StringBuilder("In file included from " + folder + "/unit.cpp:5:\n");
    for (int i = 1; i <= 200; i++) {
      output.append(
          folder + "/Vdut.h:" + i + ":7: error: '__Vfunc_spread__1__r' was not declared\n");
      output.append("  " + i + " | int Vfunc;\n      |     ^~~~\n");
    }

    RtlException refused =
        assertInstanceOf(
            RtlException.class,
            CompileFailure.of("module dial", output.toString(), folder, List.of(source)));

    assertEquals(3, refused.messages().size());
    assertEquals(
        source + ":3: Vdut.h:1:7: error: '__Vfunc_spread__1__r' was not declared",
        refused.messages().get(0).toString());
    assertTrue(refused.getMessage().contains("The first of 200 errors"), refused.getMessage());
    assertTrue(refused.getMessage().length() < 1500, refused.getMessage());
  }

  @Test
  void aCompilerThatFailsByItselfIsNotBlamedOnTheSource() {
    for (String output :
        List.of(
            "", "g++: internal compiler error: Killed (program cc1plus)", "Segmentation fault")) {
      RuntimeException failed = CompileFailure.of("module dial", output, folder, List.of());
      assertInstanceOf(ToolchainException.class, failed);
      assertTrue(failed.getMessage().contains(output.isEmpty() ? "nothing" : output));
    }
  }

  @Test
  @Tag("thorough")
  void aFunctionThatIsImportedFromNowhereIsToldByItsName() throws IOException {
    Path source =
        Files.writeString(
            folder.resolve("dial.sv"),
            """
            module dial(input clk, input [3:0] a, output logic [3:0] q);
              import "DPI-C" function int look_up(input int x);
              always @(posedge clk) q <= 4'(look_up(int'(a)));
            endmodule
            """);

    RtlException refused =
        assertThrows(
            RtlException.class,
            () ->
                DesignBuilder.build(
                    RtlSource.of(source), BuildOptions.defaults().withOptimisation(false)));

    assertTrue(refused.getMessage().contains("imports C functions"), refused.getMessage());
    assertEquals(
        List.of(source + ":2: function \"look_up\" is defined nowhere"),
        refused.messages().stream().map(RtlException.Message::toString).toList());
  }

  @Test
  void aVersionOfManyDigitsIsAVersion() {
    assertTrue(ToolchainSetup.atLeast("99999999999.1", "5.006"));
    assertTrue(ToolchainSetup.atLeast("5.99999999999", "5.006"));
  }
}
