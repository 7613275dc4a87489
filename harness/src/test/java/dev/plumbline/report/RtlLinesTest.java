package dev.plumbline.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The RTL that a page shows of a wrong signal. */
class RtlLinesTest {
  private static final String GEAR =
      """
      module gear (input clk, input signed [7:0] a, output reg signed [15:0] turned);
        reg signed [15:0] product;
        wire same = product == turned;

        always @(posedge clk) begin
          product[7:0] <= a;
          product_2 <= a;
          product <= a * a;
          turned <= product;
        end
      endmodule
      """;

  @TempDir private Path folder;

  @Test
  void declarationAndAssignmentsAreShownTheFirstAssignmentStandsOff() throws IOException {
    Path file = Files.writeString(folder.resolve("gear.v"), GEAR);
    FactTable table = RtlLines.of("top.gear.product[3]", file + ":2").orElseThrow();

    assertEquals("RTL of top.gear.product[3], " + file, table.title());
    assertEquals(
        List.of("2", "5", "6", "7", "8", "9"), table.rows().stream().map(r -> r.get(0)).toList());
    assertEquals(List.of("6", "    product[7:0] <= a;"), table.rows().get(table.marked()));
  }

  @Test
  void whatCannotBeReadIsLeftOut() throws IOException {
    Path file = Files.writeString(folder.resolve("gear.v"), GEAR);
    for (String place : List.of("", "gear", file + ":99", file + "x:2", "\0:1")) {
      assertTrue(RtlLines.of("gear.product", place).isEmpty(), place);
    }
  }
}
