package dev.plumbline.cases;

import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.stimulus.RandomStream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class LimitsTest {
  /** Without branches as with them, however the rows are cut into calls. */
  @ParameterizedTest
  @CsvSource({"true,1", "false,1", "true,2", "true,18", "false,32", "true,32", "false,62"})
  void rowsAreDrawnAsOneByOne(boolean signed, int width) {
    Limits limits = new Limits(new Format(signed, width, 0));
    RandomStream chance = RandomStream.of(77);
    long[] rows = new long[1000];
    long state = limits.draw(77, rows, 0, 1);
    state = limits.draw(state, rows, 1, 1);
    limits.draw(state, rows, 1, 1000);
    for (int row = 0; row < rows.length; row++) {
      assertEquals(limits.draw(chance), rows[row], "row " + row);
    }
  }
}
