package dev.plumbline.toolchain;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.JavaFork;
import dev.plumbline.rtl.RtlSource;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Programs that take more memory than they may. */
class ToolMemoryTest {
  private static final long MEGABYTE = 1 << 20;

  @TempDir private Path folder;

  private Command shell(String log, String script, ToolMemory memory) {
    return Command.start(folder.resolve(log), List.of("/bin/sh", "-c", script), memory);
  }

  /** What takes the memory is a program that the one we know has started, as a compiler's is. */
  @Test
  void theLargestIsEndedAndNamedWithWhatItTook() {
    ToolMemory memory = new ToolMemory(() -> 24 * MEGABYTE);
    Command small = shell("small", "sleep 0.2", memory);
    // Keeps so much until it is ended; the limit only ends a test that has failed.
    Command large =
        shell(
            "large", "(kept=$(head -c 32000000 /dev/zero | tr '\\0' x); sleep 100); true", memory);

    Command.Outcome outcome = large.await();

    assertFalse(outcome.succeeded());
    assertTrue(outcome.took() > 20 * MEGABYTE, () -> "took " + outcome.took());
    String message =
        assertThrows(ToolchainException.class, () -> outcome.requireMemory("module dial"))
            .getMessage();
    assertTrue(
        message.matches(
            "/bin/sh took \\d+ MB of memory for module dial and was ended; the programs that"
                + " Plumbline starts may have 24 MB together\\. Make .* by"
                + " -Dplumbline\\.tools\\.megabytes=N\\."),
        message);
    assertTrue(small.await().succeeded(), "what takes little goes on");
  }

  @Test
  void unlessSetItIsAShareOfTheMachine() {
    long half = ToolMemory.bytes(" ");
    assertTrue(half >= 64 * MEGABYTE, () -> "half is " + half);
    assertEquals(300 * MEGABYTE, ToolMemory.bytes(" 300 "));
    for (String text : List.of("0", "-1", "many", "1.5", "12345678901")) {
      ToolchainException refused =
          assertThrows(ToolchainException.class, () -> ToolMemory.bytes(text));
      assertEquals(
          "Property plumbline.tools.megabytes cannot be \""
              + text
              + "\"; a whole number of megabytes is allowed, 1 to 999999999.",
          refused.getMessage());
    }
  }

  /** Builds a design and prints what comes of it. */
  static final class Build {
    private Build() {}

    public static void main(String[] arguments) {
      try {
        RtlSource source = RtlSource.of(Path.of(arguments[0]));
        System.out.println(DesignBuilder.build(source, BuildOptions.defaults()).file());
      } catch (ToolchainException e) {
        System.out.println(e.getMessage());
      }
    }
  }

  private String built(int megabytes, String rtl) throws IOException, InterruptedException {
    Path source = Files.writeString(folder.resolve("dial.sv"), rtl);
    Path cache = CacheInTest.at(folder);
    try (JavaFork fork =
        new JavaFork(
            Build.class,
            List.of("-Dplumbline.cache=" + cache, "-D" + ToolMemory.PROPERTY + "=" + megabytes),
            source.toString())) {
      return String.join("\n", fork.lines());
    } finally {
      CacheInTest.leave(cache);
    }
  }

  /** What is compiled first in an empty cache is what all designs share. */
  @Test
  @Tag("thorough")
  void aCompilerThatTakesTooMuchIsNamed() throws Exception {
    String said =
        built(
            100,
            """
            module dial(input clk, input [3:0] a, output logic [3:0] q);
              always @(posedge clk) q <= a;
            endmodule
            """);

    assertTrue(
        said.matches("(?s)\\S*g\\+\\+ took \\d+ MB of memory for .* 100 MB together.*"), said);
  }

  /** Verilator has each of these constants in full, several times. */
  @Test
  @Tag("thorough")
  void aDesignForWhichVerilatorTakesTooMuchIsNamed() throws Exception {
    String said =
        built(
            60,
            """
            module dial(input clk, input [3:0] a, output logic q);
              localparam logic [99999999:0] Marks = '1;
              localparam logic [99999999:0] More = Marks << 5000;
              always @(posedge clk) q <= ^(~More >> a);
            endmodule
            """);

    assertTrue(said.contains("verilator_bin took "), said);
    assertTrue(said.contains(" MB of memory for "), said);
    assertTrue(said.contains("dial.sv"), said);
  }
}
