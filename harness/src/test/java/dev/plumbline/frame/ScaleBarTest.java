package dev.plumbline.frame;

import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.models.picture.Picture;
import org.junit.jupiter.api.Test;

class ScaleBarTest {
  private static final int INK = 0xFFFFFF;

  private static Picture small() {
    Picture picture = Picture.of(3, 2);
    picture.set(2, 1, 0x123456);
    return picture;
  }

  /** A margin, and two steps of seven pixels, the width of two digits, with three behind each. */
  @Test
  void aPictureTooNarrowIsWidened() {
    Picture whole = ScaleBar.under(small(), new int[] {0, 200}, new long[] {0, 40});

    assertEquals(1 + 2 * (7 + 3), whole.width());
    assertEquals(2 + ScaleBar.HEIGHT, whole.height());
    assertEquals(0x123456, whole.at(2, 1));
    assertEquals(0, whole.at(0, 0));
  }

  @Test
  void aShadeStandsAboveItsNumber() {
    Picture whole = ScaleBar.under(small(), new int[] {0, 200}, new long[] {0, 40});

    assertEquals(0, whole.at(1, 4));
    assertEquals(0xC8C8C8, whole.at(11, 4));
    assertEquals(0xC8C8C8, whole.at(18, 9));
    StringBuilder drawn = new StringBuilder();
    for (int y = 11; y < 16; y++) {
      for (int x = 11; x < 18; x++) {
        drawn.append(whole.at(x, y) == INK ? '#' : '.');
      }
      drawn.append('\n');
    }
    assertEquals(
        """
        #.#.###
        #.#.#.#
        ###.#.#
        ..#.#.#
        ..#.###
        """,
        drawn.toString());
  }

  @Test
  void aWidePictureKeepsItsWidth() {
    Picture whole = ScaleBar.under(Picture.of(200, 5), new int[] {255}, new long[] {123});

    assertEquals(200, whole.width());
  }
}
