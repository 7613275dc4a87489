package dev.plumbline.models.solid;

import dev.plumbline.models.fixed.Format;
import java.util.Random;

/**
 * Rays and planes in any format: a scene of moderate numbers, whole ranges, and the adversarial
 * ones (nearly parallel, origin on the plane or an LSB off, zero normals, ends of ranges).
 */
final class PlaneCases {
  static final int INPUTS = 10;

  private final Random random;
  private final Format word;
  private final Format direction;

  PlaneCases(long seed, Format word, Format direction) {
    this.random = new Random(seed);
    this.word = word;
    this.direction = direction;
  }

  /** Columns in the order origin, direction, normal, level. */
  long[][] columns(int cases) {
    long[][] columns = new long[INPUTS][cases];
    for (int i = 0; i < cases; i++) {
      long[] row = row();
      for (int k = 0; k < INPUTS; k++) {
        columns[k][i] = row[k];
      }
    }
    return columns;
  }

  private long[] row() {
    long[] row = new long[INPUTS];
    boolean anywhere = random.nextInt(4) == 0;
    for (int k = 0; k < 3; k++) {
      row[k] = anywhere ? code(word) : moderate(word, word.width() - 5);
    }
    row[9] = anywhere ? code(word) : moderate(word, word.width() - 4);
    vector(row, 3);
    vector(row, 6);
    if (random.nextInt(4) == 0) {
      nearlyParallel(row);
    }
    if (random.nextInt(4) == 0) {
      long reach = row[0] * row[6] + row[1] * row[7] + row[2] * row[8];
      row[9] = clamp((reach >> direction.fractionBits()) + random.nextInt(4) - 1L, word);
    }
    return row;
  }

  private void vector(long[] row, int at) {
    int kind = random.nextInt(8);
    if (kind == 0) {
      java.util.Arrays.fill(row, at, at + 3, 0);
      row[at + random.nextInt(3)] = unit() * (random.nextBoolean() ? 1 : -1);
    } else if (kind == 1) {
      for (int k = 0; k < 3; k++) {
        row[at + k] = random.nextInt(20) == 0 ? 0 : code(direction);
      }
    } else if (kind == 2) {
      for (int k = 0; k < 3; k++) {
        row[at + k] = (random.nextInt(3) - 1L) * unit();
      }
    } else {
      double[] n = {random.nextGaussian(), random.nextGaussian(), random.nextGaussian()};
      double length = Math.sqrt(n[0] * n[0] + n[1] * n[1] + n[2] * n[2]);
      for (int k = 0; k < 3; k++) {
        row[at + k] = clamp(Math.round(n[k] / length * unit()), direction);
      }
    }
  }

  /** A direction across the normal, give or take an LSB. */
  private void nearlyParallel(long[] row) {
    int skip = random.nextInt(3);
    int a = (skip + 1) % 3;
    int c = (skip + 2) % 3;
    row[3 + skip] = random.nextInt(3) - 1L;
    row[3 + a] = clamp(-row[6 + c] + random.nextInt(3) - 1L, direction);
    row[3 + c] = clamp(row[6 + a] + random.nextInt(3) - 1L, direction);
  }

  private long unit() {
    return 1L << direction.fractionBits();
  }

  private long moderate(Format format, int bits) {
    return clamp((random.nextLong() >> (64 - bits)) >> random.nextInt(3), format);
  }

  private long code(Format format) {
    long min = format.minCode().longValueExact();
    long max = format.maxCode().longValueExact();
    return switch (random.nextInt(6)) {
      case 0 -> min + random.nextInt(2);
      case 1 -> max - random.nextInt(2);
      case 2 -> random.nextInt(3) - 1L;
      default -> random.nextLong() >> (64 - format.width());
    };
  }

  private static long clamp(long code, Format format) {
    return Math.min(
        Math.max(code, format.minCode().longValueExact()), format.maxCode().longValueExact());
  }
}
