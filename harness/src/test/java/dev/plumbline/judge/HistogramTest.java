package dev.plumbline.judge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Test;

class HistogramTest {
  @Test
  void nothingAddedIsToldFromZero() {
    Histogram histogram = new Histogram();
    assertEquals(-1, histogram.medianAtLeast());
    assertEquals(-1, histogram.medianAtMost());
    histogram.add(0);
    assertEquals(0, histogram.medianAtLeast());
    assertEquals(0, histogram.medianAtMost());
  }

  @Test
  void theMedianIsExactUpToAThousandAndCloseBeyond() {
    Random random = new Random(5);
    for (int run = 0; run < 2_000; run++) {
      Histogram histogram = new Histogram();
      long[] numbers = new long[1 + random.nextInt(9)];
      for (int i = 0; i < numbers.length; i++) {
        numbers[i] = random.nextLong() >>> (1 + random.nextInt(63));
        histogram.add(numbers[i]);
      }
      Arrays.sort(numbers);
      long median = numbers[(numbers.length - 1) / 2]; // half or more are not above it
      long low = histogram.medianAtLeast();
      long high = histogram.medianAtMost();
      assertTrue(low <= median && median <= high, () -> low + " " + median + " " + high);
      assertTrue(low >= median - median / 32 && high - median <= median / 32, () -> "" + median);
      if (median < 1024) {
        assertEquals(low, high);
      }
    }
  }

  @Test
  void theLargestNumbersHaveAPlace() {
    for (long number : new long[] {1023, 1024, 1025, 1L << 40, (1L << 62) - 1, Long.MAX_VALUE}) {
      Histogram histogram = new Histogram();
      histogram.add(number);
      assertTrue(histogram.medianAtLeast() <= number && number <= histogram.medianAtMost());
    }
  }

  @Test
  void whatLiesBeyondAnyNumberCountsAsLargest() {
    Histogram histogram = new Histogram();
    histogram.add(3);
    histogram.addBeyond();
    assertEquals(3, histogram.medianAtMost(), "half are not above 3");
    histogram.addBeyond();
    assertEquals(Long.MAX_VALUE, histogram.medianAtMost());
  }
}
