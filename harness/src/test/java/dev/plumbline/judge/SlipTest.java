package dev.plumbline.judge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.drive.OutputCheck;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import java.util.function.IntUnaryOperator;
import org.junit.jupiter.api.Test;

class SlipTest {
  private static final int ANSWERS = 400;

  private static OutputCheck[] checks(int width) {
    return new OutputCheck[] {
      new OutputCheck(
          0, new Operand("angle", Format.unsigned(width, 0)), "angle", 0, true, -1, false, null)
    };
  }

  /** Tells of results in turn; gives the places found and after how many results, or 0. */
  private static int[] found(int width, IntUnaryOperator due, IntUnaryOperator came) {
    Slip slip = new Slip(checks(width));
    for (int i = 0; i < ANSWERS; i++) {
      int at = i;
      boolean outside = due.applyAsInt(i) != came.applyAsInt(i);
      int places =
          outside || slip.isWatching()
              ? slip.result(outside, 0, by -> due.applyAsInt(at + by) == came.applyAsInt(at))
              : 0;
      if (places != 0) {
        return new int[] {places, i};
      }
    }
    return new int[] {0, ANSWERS};
  }

  private static int mixed(int i) {
    return (i * 0x9E3779B1) >>> 16;
  }

  @Test
  void aStreamThatMovedIsFoundByHowManyPlaces() {
    for (int places = -Slip.FARTHEST; places <= Slip.FARTHEST; places++) {
      int moved = places;
      int[] found = found(16, SlipTest::mixed, i -> mixed(i < 100 ? i : i + moved));
      assertEquals(places, found[0]);
      assertTrue(places == 0 || found[1] == 115, "sixteen results fit: " + found[1]);
    }
  }

  @Test
  void wrongValuesAreNoSlip() {
    assertEquals(0, found(16, SlipTest::mixed, i -> mixed(i) + 1)[0]);
    assertEquals(0, found(16, SlipTest::mixed, i -> i % 3 == 0 ? mixed(i) ^ 1 : mixed(i))[0]);
  }

  @Test
  void aConstantIsNoSlip() {
    assertEquals(0, found(16, i -> i % 23 == 0 ? 5 : 0, i -> 0)[0]);
    assertEquals(0, found(1, i -> i % 40 == 0 ? 1 : 0, i -> 0)[0]);
  }

  @Test
  void aBitNeedsMoreResultsThanAWord() {
    int[] found = found(1, i -> mixed(i) & 1, i -> mixed(i < 100 ? i : i + 1) & 1);
    assertEquals(1, found[0]);
    assertTrue(found[1] >= 131, "thirty-two bits fit: " + found[1]);
  }
}
