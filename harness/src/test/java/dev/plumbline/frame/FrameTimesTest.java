package dev.plumbline.frame;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.light.RayCounts;
import java.util.List;
import org.junit.jupiter.api.Test;

/** Cycles of rays by kind, and what a picture leaves for them, by hand. */
class FrameTimesTest {
  @Test
  void kindsAreToldApart() {
    RayCounts[] rays = {
      new RayCounts(1, 0, 0, 0),
      new RayCounts(1, 1, 0, 0),
      new RayCounts(1, 1, 1, 0),
      new RayCounts(1, 0, 1, 1),
      new RayCounts(1, 1, 1, 1)
    };
    // 100 a primary ray, 40 a shadow ray, 90 a mirrored one, 30 for its shadow.
    long[] cycles = {100, 140, 230, 220, 260};
    assertArrayEquals(new double[] {100, 40, 90, 30}, FrameTimes.byKind(rays, cycles), 1e-9);
    // Two of the first kind alone, of 90 and 110 cycles: their mean, and no others.
    RayCounts[] alone = {rays[0], rays[0]};
    double[] mean = FrameTimes.byKind(alone, new long[] {90, 110});
    assertEquals(100, mean[0], 1e-9);
    assertTrue(Double.isNaN(mean[1]) && Double.isNaN(mean[2]) && Double.isNaN(mean[3]));
  }

  @Test
  void budgetIsWhatThePictureLeaves() {
    // 48 MHz, 100 by 100 pixels 12 times a second: 400 cycles a pixel and context, 2.5 rays each.
    FrameBudget budget = new FrameBudget(48e6, 2, 100, 100, 12, 2.5);
    assertEquals(800, budget.cyclesOfPixel(), 1e-9);
    assertEquals(320, budget.cyclesOfRay(), 1e-9);
    assertEquals(12, budget.rateAt(320), 1e-9);
    assertEquals(
        List.of(
            "frames a second  1 context  2 contexts",
            "             12      160.0       320.0",
            "           0.50     3840.0      7680.0"),
        budget.table(List.of(12.0, 0.5), List.of(1, 2)));
  }

  @Test
  void whatIsNoBudgetIsRefused() {
    IllegalArgumentException refused =
        assertThrows(
            IllegalArgumentException.class, () -> new FrameBudget(48e6, 0, 100, 100, 12, 2.5));
    assertEquals(
        "Budget of a frame with a number of contexts of \"0.0\"; a number above 0 is allowed.",
        refused.getMessage());
  }

  @Test
  void aPixelIsTwoNumbers() {
    assertEquals(new PixelTrace.Place(17, 9), PixelTrace.place(" 17, 9"));
    IllegalArgumentException refused =
        assertThrows(IllegalArgumentException.class, () -> PixelTrace.place("17"));
    assertEquals(
        "Property plumbline.pixel cannot be \"17\"; two numbers from 0 with a comma between them"
            + " are allowed, such as 17,9.",
        refused.getMessage());
  }
}
