package dev.plumbline.frame;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.plumbline.models.light.RayCounts;
import java.util.List;
import org.junit.jupiter.api.Test;

/** Cycles of rays by kind, and what a picture leaves for them, by hand. */
class FrameTimesTest {
  @Test
  void kindsAreToldApart() {
    RayCounts[] pixels = {
      new RayCounts(1, 0, 0, 0), new RayCounts(1, 1, 1, 1), new RayCounts(1, 0, 1, 0)
    };
    RayTimes times = new RayTimes(new RaySignals("a", "b", "c", "d"), pixels);
    // Of primary rays 10, 20 and 60 cycles, of mirrored ones 7 and 8; one is taken with a result.
    long[][] rays = {{5, 15}, {20, 40}, {40, 43}, {50, 57}, {60, 61}, {70, 130}, {131, 139}};
    for (long cycle = 0; cycle < 200; cycle++) {
      boolean ray = false;
      boolean result = false;
      for (long[] one : rays) {
        ray |= one[0] == cycle;
        result |= one[1] == cycle;
      }
      times.row(cycle, ray, result);
    }
    assertEquals(
        "from a ray to its result, in the mean: primary 30.0, shadow 3.0, mirror 7.5, mirror shadow"
            + " 1.0; beside its rays a pixel takes 20.0",
        times.words(169, 3));
    times.row(200, false, true);
    assertEquals(
        "8 rays were traced, not the 7 of the model: no times by kind", times.words(169, 3));
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
