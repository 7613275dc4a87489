package dev.plumbline.models.solid;

import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assertions.fail;

import dev.plumbline.models.Evaluated;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;
import java.util.Random;
import java.util.function.Supplier;
import org.junit.jupiter.api.Test;

/**
 * Half-spaces and hulls in formats all over their legal range, held to the rational height / slope:
 * no rounding and no double on that side.
 */
class HalfSpaceRationalsTest {
  private static final int FORMATS = 24;
  private static final int CASES = 400;
  private static final int FACES = 3;

  private final Random random = new Random(97);
  private int hits;
  private int decided;
  private int saturated;
  private int beyond;

  @Test
  void theRationalDistanceLiesInTheBudgetedBounds() {
    for (int k = 0; k < FORMATS; k++) {
      Format word = word();
      Format direction = direction();
      long[][] cases = cases(word, direction, 1);
      HalfSpace half = HalfSpace.of(word, direction);
      Bounds bounds = new Bounds(half.budgeted(), cases);
      Datapath declared = half.datapath();
      bounds.requireBitsOf(declared, cases);
      for (int i = 0; i < CASES; i++) {
        Cut cut = new Cut(word, direction, cases, i, 0);
        int at = i;
        Supplier<String> which =
            () -> word + " " + direction + " " + Evaluated.describe(declared, cases, at);
        require(bounds, "inside", i, cut.inside, which);
        require(bounds, "parallel", i, cut.slope.signum() == 0, which);
        require(bounds, "leaving", i, cut.slope.signum() > 0, which);
        requireBetween(bounds, "entry", i, cut.entry, word, which);
        requireBetween(bounds, "exit", i, cut.exit, word, which);
        boolean hit = hit(cut.entry.limited(word), cut.exit.limited(word));
        require(bounds, "hit", i, hit, which);
        decided += bounds.decided("hit", i) ? 1 : 0;
        hits += hit ? 1 : 0;
        saturated += cut.entry.isBeyond(word) || cut.exit.isBeyond(word) ? 1 : 0;
      }
    }
    int all = FORMATS * CASES;
    assertTrue(decided > all / 2 && hits > all / 10 && hits < all, decided + ", " + hits);
    assertTrue(saturated > all / 20, saturated + " beyond the word");
  }

  /**
   * Hardware may compare the distances of several faces before they saturate or after; both
   * decisions lie in the bounds, which tell them apart only beyond the word.
   */
  @Test
  void aHullMayDecideBeforeItSaturatesOrAfter() {
    for (int k = 0; k < FORMATS; k++) {
      Format word = word();
      Format direction = direction();
      long[][] cases = cases(word, direction, FACES);
      Hull hull = Hull.of(FACES, word, direction);
      Datapath budgeted = hull.budgeted();
      Bounds bounds = new Bounds(budgeted, cases);
      for (int i = 0; i < CASES; i++) {
        Distance entry = null;
        Distance exit = null;
        boolean inside = true;
        for (int face = 0; face < FACES; face++) {
          Cut cut = new Cut(word, direction, cases, i, face);
          entry = entry == null || cut.entry.compareTo(entry) > 0 ? cut.entry : entry;
          exit = exit == null || cut.exit.compareTo(exit) < 0 ? cut.exit : exit;
          inside &= cut.inside;
        }
        int at = i;
        Supplier<String> which =
            () -> word + " " + direction + " " + Evaluated.describe(budgeted, cases, at);
        require(bounds, "inside", i, inside, which);
        requireBetween(bounds, "entry", i, entry, word, which);
        requireBetween(bounds, "exit", i, exit, word, which);
        boolean before = hit(entry, exit);
        boolean after = hit(entry.limited(word), exit.limited(word));
        require(bounds, "hit", i, before, which);
        require(bounds, "hit", i, after, which);
        if (before != after) {
          beyond++;
        }
      }
    }
    assertTrue(beyond > FORMATS, beyond + " decided by saturation");
  }

  private static boolean hit(Distance entry, Distance exit) {
    return entry.compareTo(exit) <= 0 && exit.numerator.signum() >= 0;
  }

  private static void require(
      Bounds bounds, String bit, int i, boolean set, Supplier<String> which) {
    if (!bounds.holds(bit, i, set ? 1 : 0)) {
      fail(bit + " " + bounds.describe(bit, i) + ", not " + set + " for " + which.get());
    }
  }

  /** Between two codes, ends included, once it is brought into the word. */
  private static void requireBetween(
      Bounds bounds, String name, int i, Distance distance, Format word, Supplier<String> which) {
    Distance limited = distance.limited(word);
    if (limited.compareTo(Distance.of(bounds.low(name, i))) < 0
        || limited.compareTo(Distance.of(bounds.high(name, i))) > 0) {
      fail(name + " " + bounds.describe(name, i) + ", not " + distance + " for " + which.get());
    }
  }

  /** A fraction of positive denominator, in LSB of the word. */
  private record Distance(BigInteger numerator, BigInteger denominator)
      implements Comparable<Distance> {
    static Distance of(long code) {
      return of(BigInteger.valueOf(code));
    }

    static Distance of(BigInteger code) {
      return new Distance(code, BigInteger.ONE);
    }

    boolean isBeyond(Format word) {
      return compareTo(of(word.minCode())) < 0 || compareTo(of(word.maxCode())) > 0;
    }

    Distance limited(Format word) {
      return compareTo(of(word.minCode())) < 0
          ? of(word.minCode())
          : compareTo(of(word.maxCode())) > 0 ? of(word.maxCode()) : this;
    }

    @Override
    public int compareTo(Distance other) {
      return numerator.multiply(other.denominator).compareTo(other.numerator.multiply(denominator));
    }
  }

  /** What one plane leaves of a ray. For ever is as the words declare it: an end of the word. */
  private static final class Cut {
    final BigInteger slope;
    final boolean inside;
    final Distance entry;
    final Distance exit;

    Cut(Format word, Format direction, long[][] cases, int i, int face) {
      int normal = 6 + 4 * face;
      int fine = direction.fractionBits();
      BigInteger height = BigInteger.valueOf(cases[normal + 3][i]).shiftLeft(fine);
      BigInteger along = BigInteger.ZERO;
      for (int axis = 0; axis < 3; axis++) {
        BigInteger component = BigInteger.valueOf(cases[normal + axis][i]);
        height = height.subtract(component.multiply(BigInteger.valueOf(cases[axis][i])));
        along = along.add(component.multiply(BigInteger.valueOf(cases[3 + axis][i])));
      }
      slope = along;
      inside = height.signum() >= 0;
      Distance always = Distance.of(word.minCode());
      Distance never = Distance.of(word.maxCode());
      // Height has F + D fraction bits and slope 2 D: the quotient in LSB of F takes D more.
      BigInteger over = height.shiftLeft(fine);
      BigInteger signed = slope.signum() < 0 ? over.negate() : over;
      Distance distance = slope.signum() == 0 ? null : new Distance(signed, slope.abs());
      if (slope.signum() == 0) {
        entry = inside ? always : never;
        exit = inside ? never : always;
      } else {
        entry = slope.signum() > 0 ? always : distance;
        exit = slope.signum() > 0 ? distance : never;
      }
    }
  }

  private int logarithmic(int least, int most) {
    double ratio = (double) most / least;
    return (int) Math.min(most, Math.floor(least * Math.pow(ratio, random.nextDouble()) + 0.5));
  }

  private Format word() {
    int width = logarithmic(8, 32);
    return new Format(true, width, random.nextInt(width));
  }

  private Format direction() {
    int width = logarithmic(5, 32);
    return new Format(true, width, 4 + random.nextInt(width - 4));
  }

  /** Origin, direction, then a normal and a level for each face, of every size and at ends. */
  private long[][] cases(Format word, Format direction, int faces) {
    long[][] cases = new long[6 + 4 * faces][CASES];
    for (int i = 0; i < CASES; i++) {
      boolean ends = random.nextInt(8) == 0;
      int range = word.width() - random.nextInt(word.width());
      for (int k = 0; k < cases.length; k++) {
        boolean isWord = k < 3 || (k >= 6 && (k - 6) % 4 == 3);
        Format format = isWord ? word : direction;
        cases[k][i] = ends ? end(format) : code(format, isWord ? range : direction.width());
      }
    }
    return cases;
  }

  private long code(Format format, int bits) {
    long code = random.nextLong() >> (Long.SIZE - bits);
    return random.nextInt(3) == 0 ? code >> random.nextInt(format.width()) : code;
  }

  private long end(Format format) {
    return switch (random.nextInt(4)) {
      case 0 -> random.nextInt(3) - 1L;
      case 1 -> format.maxCode().longValueExact();
      default -> format.minCode().longValueExact();
    };
  }
}
