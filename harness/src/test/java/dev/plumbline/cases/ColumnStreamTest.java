package dev.plumbline.cases;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.stimulus.RandomStream;
import java.util.Arrays;
import org.junit.jupiter.api.Test;

/** Draws by columns are those of the published generator one by one, and stay in their ranges. */
class ColumnStreamTest {
  private static final int ROWS = ColumnStream.ROWS;
  private static final int PART = ColumnStream.PART;
  private static final int TRIES = 200;

  private final RandomStream chance = RandomStream.of(31);
  private final long[] out = ColumnStream.column();
  private final long[] other = ColumnStream.column();
  private final long[] mask = ColumnStream.column();

  /** A bound of any size. */
  private int bound() {
    return 1 + chance.below(Integer.MAX_VALUE >>> chance.below(31));
  }

  @Test
  void columnsAreTheDrawsOneByOne() {
    for (int k = 0; k < TRIES; k++) {
      drawsAreOneByOne(bound(), 1 + chance.below(9));
    }
  }

  /** Products with these are shifts. */
  @Test
  void boundsOfOneBitAndOfTwoAreDrawnAsAnyOther() {
    for (int high = 0; high < Integer.SIZE - 1; high++) {
      drawsAreOneByOne(1 << high, 1 << Math.min(high, 20));
      for (int low = 0; low < high; low++) {
        drawsAreOneByOne((1 << high) + (1 << low), 3);
      }
    }
  }

  /** Part by part, and in each column by column. */
  private void drawsAreOneByOne(int bound, int times) {
    long seed = chance.next();
    ColumnStream columns = new ColumnStream(seed);
    columns.below(bound, out);
    columns.oneIn(times, mask);
    RandomStream single = RandomStream.of(seed);
    for (int block = 0; block < 2; block++) {
      columns.run();
      for (int part = 0; part < ROWS; part += PART) {
        for (int row = part; row < part + PART; row++) {
          assertEquals(single.below(bound), out[row], bound + ", row " + row);
        }
        for (int row = part; row < part + PART; row++) {
          assertEquals(single.below(times) == 0 ? -1 : 0, mask[row], times + ", row " + row);
        }
      }
    }
  }

  @Test
  void theNextBlockGoesOnWhereTheLastEnded() {
    ColumnStream columns = new ColumnStream(5);
    columns.below(1000, out);
    columns.run();
    columns.run();
    RandomStream single = RandomStream.of(5);
    for (int row = 0; row < ROWS; row++) {
      single.below(1000);
    }
    for (int row = 0; row < ROWS; row++) {
      assertEquals(single.below(1000), out[row], "row " + row);
    }
  }

  @Test
  void rangesAreKeptAndTheirEndsReached() {
    for (int k = 0; k < TRIES; k++) {
      long least = chance.next() >> (3 + chance.below(60));
      long apart = bound() - 1;
      long most = chance.below(1 + (int) Math.min(apart, 1 << 29));
      long[] from = filled(least);
      long[] to = filled(least + apart);
      ColumnStream columns = new ColumnStream(k);
      columns.between(from, to, out);
      columns.within(filled(most), other);
      columns.signs(mask);
      columns.run();
      for (int row = 0; row < ROWS; row++) {
        assertTrue(least <= out[row] && out[row] <= least + apart, "between, row " + row);
        assertTrue(Math.abs(other[row]) <= most, "within, row " + row);
        assertEquals(1, Math.abs(mask[row]), "sign, row " + row);
      }
      if (apart < 4) { // 128 draws miss one of four numbers once in 10^15
        assertEquals(least, Arrays.stream(out).min().getAsLong());
        assertEquals(least + apart, Arrays.stream(out).max().getAsLong());
      }
    }
  }

  @Test
  void masksChooseAndEqualityIsAMask() {
    ColumnStream columns = new ColumnStream(9);
    long[] kind = ColumnStream.column();
    for (int row = 0; row < ROWS; row++) {
      kind[row] = row % 5 - 1;
    }
    columns.equal(kind, 2, mask);
    columns.choose(mask, filled(7), filled(-3), out);
    columns.run();
    for (int row = 0; row < ROWS; row++) {
      assertEquals(kind[row] == 2 ? 7 : -3, out[row], "row " + row);
    }
  }

  @Test
  void cornersByColumnsAreThoseOfTheFormat() {
    for (int width = 1; width <= 62; width++) {
      boolean signed = chance.below(2) == 0;
      Format format = new Format(signed, width, 0);
      Limits limits = new Limits(format);
      ColumnStream columns = new ColumnStream(width);
      limits.draw(columns, mask, other, out);
      boolean least = false;
      boolean most = false;
      for (int block = 0; block < 8; block++) {
        columns.run();
        for (long code : out) {
          least |= code == limits.least();
          most |= code == limits.most();
          assertTrue(isNearACorner(code, limits), format + " " + code);
        }
      }
      assertTrue(least && most, "ends of " + format); // each once in five draws or more
    }
  }

  private static boolean isNearACorner(long code, Limits limits) {
    boolean inside = limits.least() <= code && code <= limits.most();
    long magnitude = Math.abs(code);
    boolean power = false;
    for (long near = magnitude - 1; near <= magnitude + 1; near++) {
      power |= Long.bitCount(near) <= 1;
    }
    boolean end = code - limits.least() <= 1 || limits.most() - code <= 1;
    return inside && (power || end);
  }

  private static long[] filled(long code) {
    long[] column = ColumnStream.column();
    Arrays.fill(column, code);
    return column;
  }
}
