package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.rtl.RtlSource;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What {@code $time} of the RTL is: the cycle. */
class SimulationTimeTest {
  private static final String CHIME =
      """
      module chime (input wire clk, input wire strike, output reg struck);
        always @(posedge clk) begin
          struck <= strike;
          if (strike) $display("struck at %0d", $time);
        end
      endmodule
      """;

  @TempDir private Path folder;

  private CompiledDesign model(String rtl) throws IOException {
    Path file = Files.writeString(folder.resolve("chime.sv"), rtl);
    return CompiledDesign.of(RtlSource.of(file));
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "`timescale 1ns/1ps\n"})
  void timeIsTheCycle(String scale) throws IOException {
    try (Dut dut = model(scale + CHIME).open()) {
      dut.set("strike", 0);
      dut.cycles(3);
      dut.set("strike", 1);
      dut.cycles(2);

      assertEquals("struck at 3\nstruck at 4\n", dut.text());
    }
  }

  @Test
  @Tag("thorough")
  void withSeveralClocksItIsInTheUnitOfTheirPeriods() throws IOException {
    String two =
        CHIME
            .replace("input wire clk,", "input wire clk, input wire other, output reg seen,")
            .replace("endmodule", "  always @(posedge other) seen <= strike;\nendmodule");
    Clocking clocks = Clocking.of("clk", 10).with("other", 17, 0);
    try (Dut dut = model(two).open(DutOptions.defaults().withClocking(clocks))) {
      dut.set("strike", 1);
      dut.cycles(3);

      assertEquals("struck at 5\nstruck at 15\nstruck at 25\n", dut.text());
    }
  }
}
