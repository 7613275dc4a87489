package dev.plumbline.models.solid;

import dev.plumbline.models.fixed.Format;
import java.util.Random;

/**
 * Rays and boxes in any format, for either form of a box unit: aimed at the box or just beside it,
 * starting in faces; zero and tiny components, parallel axes, flat and crossed boxes, the ends of
 * the formats.
 */
final class SlabCases {
  /** Beyond every word. */
  private static final double FAR = 0x1p52;

  private final SlabFormats formats;
  private final Random random;

  SlabCases(SlabFormats formats, Random random) {
    this.formats = formats;
    this.random = random;
  }

  long[][] columns(int cases) {
    int faces = formats.faces();
    long[][] columns = new long[faces + 6][cases];
    for (int i = 0; i < cases; i++) {
      boolean ends = random.nextInt(8) == 0;
      int size = random.nextInt(formats.word().width());
      long t = code(formats.word(), size);
      for (int axis = 0; axis < 3; axis++) {
        long ray = ray();
        boolean parallel = formats.inverses() ? random.nextInt(6) == 0 : ray == 0;
        if (formats.inverses()) {
          columns[6 + axis][i] = parallel ? 1 : 0;
        }
        columns[3 + axis][i] = ray;
        long origin = code(formats.word(), ends ? formats.word().width() - 1 : size);
        columns[axis][i] = origin;
        double ahead = parallel ? 0 : Math.min(Math.max(t * slope(ray), -FAR), FAR);
        boolean starts = random.nextInt(4) == 0;
        long at = starts ? origin : origin + Math.round(ahead) + random.nextInt(3) - 1;
        long before = thickness(size);
        long after = thickness(size);
        boolean crossed = random.nextInt(20) == 0;
        long min = clamp(at - (crossed ? -after : before), formats.word());
        long max = clamp(at + (crossed ? -before : after), formats.word());
        if (ends && random.nextBoolean()) {
          min = end(formats.word());
          max = random.nextBoolean() ? min : end(formats.word());
        }
        columns[faces + axis][i] = min;
        columns[faces + 3 + axis][i] = random.nextInt(12) == 0 ? min : max;
      }
    }
    return columns;
  }

  /** How far the ray goes along an axis for each LSB of distance. */
  private double slope(long ray) {
    double value = Math.scalb((double) ray, -formats.ray().fractionBits());
    return formats.inverses() ? (ray == 0 ? 0 : 1 / value) : value;
  }

  private long ray() {
    Format ray = formats.ray();
    long one = ray.fractionBits() < 0 ? 1 : 1L << ray.fractionBits();
    return clamp(
        switch (random.nextInt(8)) {
          case 0 -> 0;
          case 1 -> random.nextInt(7) - 3L;
          case 2 -> random.nextBoolean() ? one : -one;
          case 3 -> end(ray);
          case 4 -> code(ray, random.nextInt(ray.width()));
          default -> Math.round(random.nextGaussian() * one / 2);
        },
        ray);
  }

  private long thickness(int size) {
    return random.nextInt(3) == 0 ? 0 : Math.abs(code(formats.word(), size) / 2);
  }

  private long end(Format format) {
    long off = random.nextInt(3);
    return random.nextBoolean()
        ? clamp(format.minCode().longValueExact() + off, format)
        : clamp(format.maxCode().longValueExact() - off, format);
  }

  private long code(Format format, int bits) {
    return clamp(random.nextLong() >> (63 - bits), format);
  }

  private static long clamp(long code, Format format) {
    return Math.min(
        Math.max(code, format.minCode().longValueExact()), format.maxCode().longValueExact());
  }
}
