package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.rtl.RtlSource;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.SplittableRandom;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Holds the digest to the JDK's own random words, and to the published hash of a known text. */
@Execution(ExecutionMode.CONCURRENT)
class DigestRunTest {
  private static final long BASIS = 0xCBF29CE484222325L;
  private static final int[] WIDTHS = {1, 8, 9, 16, 23, 32, 33, 48, 49, 56, 57, 64, 65, 128, 130};

  @TempDir private Path folder;

  private CompiledDesign model(String name, String source) throws IOException {
    return CompiledDesign.of(
        RtlSource.of(Files.writeString(folder.resolve(name + ".sv"), source)).withTop(name));
  }

  @Test
  @DisplayName("FNV-1a 64 of \"foobar\" and two zero bytes (RFC 9923), by the definition")
  void hashOfAKnownText() throws IOException {
    // 6 bytes of text; the two that fill the word multiply its published hash by the prime.
    long prime = 0x100000001B3L;
    long expected = 0x85944171F73967E8L;
    for (int zero = 0; zero < 2; zero++) {
      expected *= prime;
    }
    String source = "module text (output [47:0] y); assign y = 48'h7261626F6F66; endmodule";
    try (Dut dut = model("text", source).open()) {
      DigestRun run = DigestRun.of(dut, 1);
      assertEquals(BASIS, run.digest());
      run.run(1);
      assertEquals(expected, run.digest());
    }
  }

  @ParameterizedTest
  @ValueSource(booleans = {false, true})
  void everyWidthIsDrawnAndFolded(boolean isolated) throws IOException {
    StringBuilder inputs = new StringBuilder("module wires (input signed [6:0] a[2:1][1:0]");
    StringBuilder outputs = new StringBuilder(", output signed [6:0] b[2:1][1:0]");
    StringBuilder wires = new StringBuilder(");\nassign b = a;\n");
    for (int width : WIDTHS) {
      inputs.append(", input [" + (width - 1) + ":0] i" + width);
      outputs.append(", output signed [" + (width - 1) + ":0] o" + width);
      wires.append("assign o" + width + " = i" + width + ";\n");
    }
    SplittableRandom words = new SplittableRandom(-9);
    long hash = BASIS;
    for (int cycle = 0; cycle < 300; cycle++) {
      for (int element = 0; element < 4; element++) {
        hash = folded(hash, words.nextLong() & 0x7F);
      }
      for (int width : WIDTHS) {
        for (int bits = width; bits > 0; bits -= 64) {
          hash = folded(hash, words.nextLong() & -1L >>> Math.max(0, 64 - bits));
        }
      }
    }

    CompiledDesign model = model("wires", inputs.append(outputs).append(wires) + "endmodule\n");
    try (Dut dut = model.open(DutOptions.defaults().withIsolated(isolated))) {
      DigestRun run = DigestRun.of(dut, -9);
      run.run(100);
      run.run(0);
      run.run(200);
      assertEquals(Long.toHexString(hash), Long.toHexString(run.digest()));
      assertEquals(300, dut.cyclesRun());
      assertEquals(dut.get("i33"), dut.get("o33") & 0x1_FFFF_FFFFL);
    }
  }

  private static long folded(long hash, long word) {
    long folded = hash;
    for (int i = 0; i < 8; i++) {
      folded = (folded ^ (word >>> (8 * i) & 0xFF)) * 0x100000001B3L;
    }
    return folded;
  }

  @Test
  @Tag("thorough")
  void whatIsHeldIsNotDrawnAndClocksAreNot() throws IOException {
    String source =
        """
        module kept (input clk, input [7:0] add, input [69:0] same, input [7:0] d,
                     output reg [7:0] q, output [69:0] t);
          assign t = same;
          initial q = 0;
          always @(posedge clk) q <= d + add;
        endmodule
        """;
    SplittableRandom words = new SplittableRandom(4);
    long hash = BASIS;
    long q = 0;
    for (int cycle = 0; cycle < 50; cycle++) {
      hash = folded(folded(folded(hash, q), 11), 2);
      q = (words.nextLong() + (cycle < 20 ? 3 : 0)) & 0xFF;
    }
    try (Dut dut = model("kept", source).open()) {
      DigestRun run = DigestRun.of(dut, 4, "add", "same");
      dut.set("same", 11, 2);
      dut.set("add", 3);
      run.run(20);
      dut.set("add", 0);
      run.run(30);
      assertEquals(hash, run.digest());
      Throwable e = assertThrows(PortException.class, () -> DigestRun.of(dut, 4, "q"));
      assertTrue(e.getMessage().contains("\"q\" is no input"), e.getMessage());
      e = assertThrows(PortException.class, () -> DigestRun.of(dut, 4, "nothing"));
      assertTrue(e.getMessage().contains("\"nothing\""), e.getMessage());
      e = assertThrows(IllegalArgumentException.class, () -> run.run(-1));
      assertTrue(e.getMessage().contains("0 or more"), e.getMessage());
    }
  }

  @Test
  @Tag("thorough")
  void theCycleInWhichItFinishesStillCounts() throws IOException {
    String source =
        """
        module ends (input clk, output reg [7:0] n);
          initial n = 0;
          always @(posedge clk) begin
            n <= n + 8'd1;
            if (n == 8'd99) $finish;
          end
        endmodule
        """;
    long hash = BASIS;
    for (int n = 0; n < 100; n++) {
      hash = folded(hash, n);
    }
    try (Dut dut = model("ends", source).open()) {
      DigestRun run = DigestRun.of(dut, 0);
      DutEndedException e = assertThrows(DutEndedException.class, () -> run.run(1_000));
      assertEquals(DutEndedException.Kind.FINISH, e.kind());
      assertEquals(100, dut.cyclesRun());
      assertEquals(hash, run.digest());
      assertThrows(DutEndedException.class, () -> run.run(1));
    }
  }
}
