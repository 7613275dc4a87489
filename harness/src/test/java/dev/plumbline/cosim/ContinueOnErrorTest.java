package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.plumbline.rtl.RtlSource;
import dev.plumbline.toolchain.BuildOptions;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * A run that continues on errors passes over {@code $error} alone: IEEE 1800-2017, 16.3, makes what
 * stands behind {@code else} the assertion's own failure.
 */
@Tag("thorough")
class ContinueOnErrorTest {
  private static final String LATCH =
      """
      module latch(input logic clk, input logic [3:0] what, output logic q);
        always @(posedge clk) begin
          q <= ~q;
          if (what == 1) $error("plain");
          assert (what != 2)
            else
              $error("on a line of its own");
          assert (what != 3) else begin
            if (q || !q)
              $error("inside a block");
          end
          if (what == 4)
            $fatal(1, "fatal");
          assert (what != 5)
            else $fatal(1, "assert");
          assert (what != 6) else $error("on one line");
        end
        assert property (@(posedge clk) what != 7)
          else $error("concurrent");
        always_comb
          unique case (what == 8)
            1'b0: ;
          endcase
        always @(posedge clk) if (what == 9) $stop;
      endmodule
      """;

  @TempDir private static Path folder;
  private static CompiledDesign model;

  @BeforeAll
  static void aLatch() throws IOException {
    Path file = Files.writeString(folder.resolve("latch.sv"), LATCH);
    model = CompiledDesign.of(RtlSource.of(file), BuildOptions.defaults().withOptimisation(false));
  }

  private Dut open(boolean continueOnError) {
    DutOptions options = DutOptions.defaults();
    return model.open(continueOnError ? options.withContinueOnError() : options);
  }

  @Test
  void aPlainErrorIsPassedOver() {
    try (Dut dut = open(true)) {
      dut.set("what", 1);
      dut.cycles(5);
      assertEquals(5, dut.cyclesRun());
    }
  }

  @ParameterizedTest
  @CsvSource({
    "1,ERROR,4",
    "2,ASSERTION,7",
    "3,ASSERTION,10",
    "4,FATAL,13",
    "5,ASSERTION,15",
    "6,ASSERTION,16",
    "7,ASSERTION,19",
    "8,ASSERTION,21",
    "9,STOP,24"
  })
  void anythingElseEndsTheRunByItsOwnName(int what, DutEndedException.Kind kind, int line) {
    for (boolean continueOnError : new boolean[] {false, true}) {
      try (Dut dut = open(continueOnError)) {
        dut.set("what", what);
        if (continueOnError && kind == DutEndedException.Kind.ERROR) {
          continue;
        }
        DutEndedException end = assertThrows(DutEndedException.class, () -> dut.cycles(2));
        assertEquals(kind, end.kind());
        assertEquals(folder.resolve("latch.sv") + ":" + line, end.location().toString());
      }
    }
  }
}
