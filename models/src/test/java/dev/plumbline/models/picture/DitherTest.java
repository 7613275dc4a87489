package dev.plumbline.models.picture;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.util.Arrays;
import java.util.BitSet;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

/** Ordered dither against the published matrices, their counts and an independent program. */
class DitherTest {
  private static int[] row(DitherMatrix matrix, int y) {
    int[] row = new int[matrix.columns()];
    Arrays.setAll(row, x -> matrix.rank(x, y));
    return row;
  }

  @Test
  @DisplayName("G1: the 4 x 4 matrix, the first row of the 8 x 8, and the closed form of bits")
  void matrixIsThePublishedOne() {
    // B. Bayer, IEEE International Conference on Communications, 1973.
    DitherMatrix four = DitherMatrix.bayer(2);
    int[][] printed = {{0, 8, 2, 10}, {12, 4, 14, 6}, {3, 11, 1, 9}, {15, 7, 13, 5}};
    for (int y = 0; y < 4; y++) {
      assertArrayEquals(printed[y], row(four, y));
    }
    assertArrayEquals(new int[] {0, 32, 8, 40, 2, 34, 10, 42}, row(DitherMatrix.bayer(3), 0));
    for (int order = 0; order <= 6; order++) {
      DitherMatrix matrix = DitherMatrix.bayer(order);
      for (int y = 0; y < matrix.rows(); y++) {
        for (int x = 0; x < matrix.columns(); x++) {
          assertEquals(closedForm(x, y, order), matrix.rank(x, y), x + ", " + y);
        }
      }
    }
  }

  /** The bits of x exclusive-or y and of y, interleaved and turned end for end. */
  private static int closedForm(int x, int y, int order) {
    int rank = 0;
    for (int bit = 0; bit < order; bit++) {
      rank = rank << 2 | ((x ^ y) >> bit & 1) << 1 | y >> bit & 1;
    }
    return rank;
  }

  @Test
  @DisplayName("G2: 64 ranks once each; level g of 64 lights g cells; columns sum to 252")
  void everyRankStandsOnce() {
    DitherMatrix eight = DitherMatrix.bayer(3);
    BitSet seen = new BitSet();
    for (int x = 0; x < 8; x++) {
      int sum = 0;
      for (int y = 0; y < 8; y++) {
        seen.set(eight.rank(x, y));
        sum += eight.rank(x, y);
      }
      assertEquals(252, sum);
    }
    assertEquals(64, seen.cardinality());
    for (int level = 0; level <= 64; level++) {
      int lit = 0;
      for (int cell = 0; cell < 64; cell++) {
        lit += eight.rank(cell % 8, cell / 8) < level ? 1 : 0;
      }
      assertEquals(level, lit);
    }
  }

  @Test
  @DisplayName("G2: what a flat colour lights is its rest in 64 parts, to the nearest")
  void flatColoursLightTheirShare() {
    Palette two = Palette.levels(2, 2, 2);
    Quantiser dithered = Quantiser.of(two).withDither(DitherMatrix.bayer(3));
    for (int v = 0; v < 256; v++) {
      int lit = 0;
      for (int cell = 0; cell < 64; cell++) {
        lit += dithered.code(cell % 8, cell / 8, v << 16) >> 2;
      }
      assertEquals(64 * v / 255.0, lit, 0.5, "level " + v);
    }
  }

  @Test
  void meanOfAnAreaIsTheColourInEveryPalette() {
    Quantiser[] quantisers = {
      Quantiser.of(Palette.levels(8, 8, 4)).withDither(DitherMatrix.bayer(3)),
      Quantiser.of(Palette.levels(6, 6, 6)).withDither(DitherMatrix.bayer(3)),
      Quantiser.of(Palette.of(Palette332.COLOURS)).withDither(DitherMatrix.bayer(3), 85)
    };
    double[] most = {255 / 128.0 / 3 + .5, 255 / 128.0 / 5 + .5, 22};
    for (int k = 0; k < quantisers.length; k++) {
      for (int v = 0; v < 256; v += 5) {
        double sum = 0;
        for (int cell = 0; cell < 64; cell++) {
          int code = quantisers[k].code(cell % 8, cell / 8, v * 0x10101);
          sum += quantisers[k].palette().colour(code) & 0xFF;
        }
        assertEquals(v, sum / 64, most[k], "blue " + v + " of " + k);
      }
    }
  }

  /** A table of the 3-3-2 colours. */
  private static final class Palette332 {
    static final int[] COLOURS = new int[256];

    static {
      Palette levels = Palette.levels(8, 8, 4);
      Arrays.setAll(COLOURS, levels::colour);
    }
  }

  @Test
  @DisplayName("G3: netpbm's ditherer lights cell after cell in the order of this matrix")
  void netpbmLightsTheSameCells() throws IOException, InterruptedException {
    Netpbm.assumeInstalled("ppmdither");
    for (int order = 1; order <= 3; order++) {
      int side = 1 << order;
      Picture levels = Picture.of(side, side * 256);
      for (int y = 0; y < levels.height(); y++) {
        for (int x = 0; x < side; x++) {
          levels.set(x, y, y / side * 0x10101);
        }
      }
      byte[] out =
          Netpbm.run(
              Netpbm.pixmap(levels), "ppmdither", "-dim=" + order, "-red=2", "-green=2", "-blue=2");
      Picture lit = Netpbm.picture(out);
      DitherMatrix matrix = DitherMatrix.bayer(order);
      int cells = side * side;
      for (int cell = 0; cell < cells; cell++) {
        int x = cell % side;
        int y = cell / side;
        int first = 0;
        while (first < 256 && lit.at(x, first * side + y) == 0) {
          first++;
        }
        int rank = cells - 1 - matrix.rank(side - 1 - x, y);
        assertEquals(Math.min(255, (rank + 1) * 256 / cells), first, "cell " + x + ", " + y);
      }
    }
  }

  @Test
  void badMatricesAreRefused() {
    assertThrows(IllegalArgumentException.class, () -> DitherMatrix.bayer(7));
    assertThrows(IllegalArgumentException.class, () -> DitherMatrix.of(2, new int[][] {{0, 2}}));
    assertThrows(IllegalArgumentException.class, () -> DitherMatrix.of(2, new int[0][]));
    Exception ragged =
        assertThrows(
            IllegalArgumentException.class, () -> DitherMatrix.of(4, new int[][] {{0, 1}, {2}}));
    assertTrue(ragged.getMessage().contains("[[0, 1], [2]]"), ragged.getMessage());
    Quantiser table = Quantiser.of(Palette.of(0, 0xFFFFFF));
    assertThrows(IllegalArgumentException.class, () -> table.withDither(DitherMatrix.bayer(1)));
  }
}
