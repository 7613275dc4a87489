package dev.plumbline.judge;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.stimulus.RandomStream;
import java.util.Arrays;
import org.junit.jupiter.api.Test;

/** A column of deviations counts as its rows do one by one. */
class DeviationTallyTest {
  @Test
  void columnsCountAsTheirRowsDo() {
    RandomStream chance = RandomStream.of(17);
    for (int k = 0; k < 300; k++) {
      DeviationTally byColumn = new DeviationTally();
      DeviationTally byRow = new DeviationTally();
      long firstRow = 0;
      for (int block = 0; block < 3; block++) {
        int rows = chance.below(40);
        long[] deviations = new long[40];
        long[] mask = new long[40];
        for (int row = 0; row < rows; row++) {
          mask[row] = -chance.below(2);
          deviations[row] = (chance.next() >> (1 + chance.below(63))) & mask[row];
          if (mask[row] != 0) {
            byRow.add(deviations[row], firstRow + row);
          }
        }
        long before = firstRow;
        byColumn.add(deviations, -Arrays.stream(mask, 0, rows).sum(), rows, row -> before + row);
        firstRow += rows;
      }
      assertEquals(byRow.measured(), byColumn.measured());
      assertEquals(byRow.largest(), byColumn.largest());
      assertEquals(byRow.caseNumber(), byColumn.caseNumber());
      assertArrayEquals(byRow.histogram(), byColumn.histogram());
    }
  }
}
