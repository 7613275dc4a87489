package dev.plumbline.samples.chip;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.samples.chip.SequencerDriver.Pixel;
import dev.plumbline.samples.chip.SequencerDriver.Ray;
import dev.plumbline.samples.chip.StandInScene.Hit;
import dev.plumbline.stimulus.RandomStream;
import java.util.Arrays;

/**
 * What the ray sequencer owes to figures from outside, and to light as it is in reals; no model of
 * its arithmetic is asked. Each check takes any build of it.
 */
final class SequencerChecks {
  private static final double LSB = 1.0 / 65536;
  private static final double EPSILON = 1.0 / 128;

  /**
   * What roundings of colours alone may come to, in 1/255: a level is cut to 1/256, a base times a
   * level rounded, both of them twice but with shares that sum to one; two parts of a mirror's
   * colour are rounded, whose share is up to 1/256 of 96/255 from the tint.
   */
  private static final double ROUNDED = 1 + 0.5 + 2 * 0.5 + 0.5;

  private SequencerChecks() {}

  /** Settings in reals, of which the nearest codes are taken. */
  private record Settings(
      double[] eye,
      double[] corner,
      double[] stepX,
      double[] stepY,
      double[] lamp,
      double epsilon,
      int ambient,
      int background) {
    Settings {
      eye = coded(eye);
      corner = coded(corner);
      stepX = coded(stepX);
      stepY = coded(stepY);
      lamp = coded(lamp);
    }

    private static double[] coded(double[] reals) {
      double[] nearest = new double[3];
      Arrays.setAll(nearest, k -> Math.round(reals[k] / LSB) * LSB);
      return nearest;
    }

    private static long[] codes(double[] reals) {
      long[] codes = new long[3];
      Arrays.setAll(codes, k -> Math.round(reals[k] / LSB));
      return codes;
    }

    SequencerDriver.Settings codes() {
      return new SequencerDriver.Settings(
          codes(eye),
          codes(corner),
          codes(stepX),
          codes(stepY),
          codes(lamp),
          new long[3],
          0,
          Math.round(epsilon / LSB),
          ambient,
          background);
    }
  }

  private static double[] scaled(double by, double... vector) {
    return new double[] {by * vector[0], by * vector[1], by * vector[2]};
  }

  private static double[] reals(long... codes) {
    return new double[] {codes[0] * LSB, codes[1] * LSB, codes[2] * LSB};
  }

  private static double[] unit(double... vector) {
    return scaled(1 / Math.sqrt(StandInScene.dot(vector, vector)), vector);
  }

  /** One ray from an eye, along a direction, towards which the lamp shines. */
  private static Settings single(double[] eye, double[] direction, double[] lamp) {
    double[] none = {0, 0, 0};
    return new Settings(eye, direction, none, none, lamp, EPSILON, 0, 0x102030);
  }

  /** E4: reflected directions, each component within three LSB. */
  static void mirrorsReflect(CompiledDesign model, long seed) {
    double[][][] rows = {
      {unit(1, -1, 0), {0, 1, 0}, unit(1, 1, 0)},
      {{0, -1, 0}, unit(1, 1, 0), {1, 0, 0}},
      {{0, 0, -1}, scaled(1 / 3.0, 1, 2, 2), scaled(1 / 9.0, 4, 8, -1)},
      {{0, 0, -1}, scaled(1 / 7.0, 2, 3, 6), scaled(1 / 49.0, 24, 36, 23)},
      {{0, -1, 0}, scaled(1 / 5.0, 3, 4, 0), scaled(1 / 25.0, 24, 7, 0)}
    };
    try (SequencerDriver driver = new SequencerDriver(model, seed)) {
      for (double[][] row : rows) {
        for (double turn : new double[] {1, -1}) {
          double[] normal = scaled(turn, row[1]);
          driver.scene(
              new StandInScene().halfSpace(0, normal[0], normal[1], normal[2], 0), 0xFF808080);
          driver.settings(single(scaled(-5, row[0]), row[0], new double[] {0, 0, 1}).codes());
          Pixel pixel = driver.pixel(0, 0);
          Ray mirror = pixel.rays().get(pixel.rays().size() - 1);
          assertFalse(mirror.anyHit());
          assertEquals(2, pixel.kinds() & 2);
          assertArrayEquals(row[2], reals(mirror.direction()), 3 * LSB);
          // It begins beside the surface, on the side from which the ray came.
          double beside = StandInScene.dot(reals(mirror.origin()), row[1]);
          assertEquals(EPSILON, beside, 4 * LSB);
        }
      }
    }
  }

  /** E1: Lambert's cosine on white, to one and a half of 255. */
  static void lightFollowsTheCosine(CompiledDesign model, long seed) {
    double[][][] rows = {
      {scaled(1 / 3.0, 1, 2, 2), scaled(1 / 3.0, 2, 2, 1), {8 / 9.0}},
      {scaled(1 / 7.0, 2, 3, 6), scaled(1 / 7.0, 6, 2, -3), {0}},
      {scaled(1 / 3.0, 1, 2, 2), scaled(-1 / 3.0, 2, 2, 1), {0}}
    };
    try (SequencerDriver driver = new SequencerDriver(model, seed)) {
      for (double[][] row : rows) {
        driver.scene(
            new StandInScene().halfSpace(0, row[0][0], row[0][1], row[0][2], 0), 0x00FFFFFF);
        driver.settings(single(scaled(6, row[0]), scaled(-1, row[0]), row[1]).codes());
        int colour = driver.pixel(0, 0).colour();
        assertEquals(255 * row[2][0], colour & 0xFF, 1.5);
        assertEquals((colour & 0xFF) * 0x010101, colour);
      }
    }
  }

  /** E2: mean light of a sphere's disc, from so far away that the view is nearly parallel. */
  static void spheresHaveTheirPhases(CompiledDesign model, int pixels, long seed) {
    double[] angles = {0, 60, 90, 120};
    double[] means = {2 / 3.0, 0.405999, 0.212207, 0.072665};
    double away = 1600;
    double radius = 16;
    try (SequencerDriver driver = new SequencerDriver(model, seed)) {
      driver.scene(new StandInScene().sphere(0, 0, 0, 0, radius), 0x00FFFFFF);
      for (int i = 0; i < angles.length; i++) {
        double angle = Math.toRadians(angles[i]);
        // u is 16 long, so that a sphere's radius is 16 / 100 of a word across.
        double half = 16 * radius / away * 1.02;
        double step = 2 * half / pixels;
        driver.settings(
            new Settings(
                    new double[] {0, 0, -away},
                    new double[] {-half + step / 2, -half + step / 2, 15.99},
                    new double[] {step, 0, 0},
                    new double[] {0, step, 0},
                    new double[] {Math.sin(angle), 0, -Math.cos(angle)},
                    EPSILON,
                    0,
                    0x010203)
                .codes());
        double sum = 0;
        int met = 0;
        for (int y = 0; y < pixels; y++) {
          for (int x = 0; x < pixels; x++) {
            int colour = driver.pixel(x, y).colour();
            if (colour != 0x010203) {
              sum += (colour & 0xFF) / 255.0;
              met++;
            }
          }
        }
        // Area of the disc, then its mean light: about three standard deviations of the grid.
        assertEquals(Math.PI / 4 / (1.02 * 1.02), (double) met / (pixels * pixels), 0.4 / pixels);
        assertEquals(means[i], sum / met, 0.25 / pixels + 0.01);
      }
    }
  }

  /** Primary rays: unit directions through the pixels, and inverses as whole numbers have them. */
  static void primaryRaysGoThroughTheirPixels(CompiledDesign model, int pixels, long seed) {
    RandomStream chance = RandomStream.of(seed);
    try (SequencerDriver driver = new SequencerDriver(model, seed)) {
      driver.scene(new StandInScene());
      for (int i = 0; i < pixels; i++) {
        int width = 1 + chance.below(4096);
        double size = Math.exp(chance.unit() * Math.log(8));
        double[] middle = scaled(size, unit(sign(chance), sign(chance), sign(chance)));
        if (chance.chance(0.2)) {
          middle[chance.below(3)] = 0;
        }
        double[] across = scaled(size / width, sign(chance), sign(chance), sign(chance));
        double[] down = scaled(size / width, sign(chance), sign(chance), sign(chance));
        int x = chance.below(width);
        int y = chance.below(width);
        if (chance.chance(0.2)) {
          across = new double[3];
          down = new double[3];
        }
        double[] view = new double[3];
        double[] corner = new double[3];
        if (chance.chance(0.4)) {
          // As good as along an axis: inverses that do not fit, and those that just do.
          int axis = chance.below(3);
          middle[axis] = (chance.below(5) - 2) * LSB * size;
          across[axis] = 0;
          down[axis] = 0;
        }
        for (int k = 0; k < 3; k++) {
          across[k] = Math.rint(across[k] / LSB) * LSB;
          down[k] = Math.rint(down[k] / LSB) * LSB;
          corner[k] = Math.rint((middle[k] - (across[k] + down[k]) * width / 2) / LSB) * LSB;
          view[k] = corner[k] + x * across[k] + y * down[k];
        }
        double length = Math.sqrt(StandInScene.dot(view, view));
        if (length < 0.25 || length > 16) {
          continue;
        }
        double[] eye = {sign(chance) * 100, sign(chance) * 30000, sign(chance)};
        driver.settings(new Settings(eye, corner, across, down, eye, EPSILON, 0, 0xABCDEF).codes());
        Pixel pixel = driver.pixel(x, y);
        assertEquals(0xABCDEF, pixel.colour());
        assertEquals(1, pixel.rays().size());
        Ray ray = pixel.rays().get(0);
        assertFalse(ray.anyHit());
        assertArrayEquals(eye, reals(ray.origin()), LSB / 2);
        // The root is off by one LSB and what half an LSB of its argument makes, which the inverse
        // divides by the length; the inverse is off by one more, times u; then half of one.
        double off = LSB * (0.5 + length + (1 + 0.25 / length) / length);
        assertArrayEquals(unit(view), reals(ray.direction()), off);
        for (int k = 0; k < 3; k++) {
          inverse(ray.direction()[k], ray.inverse()[k], (ray.parallel() >> k & 1) == 1);
        }
      }
    }
  }

  /** |inverse| = floor(2^32 / |component|) where that fits the word, else parallel. */
  private static void inverse(long component, long inverse, boolean parallel) {
    long magnitude = component == 0 ? Long.MAX_VALUE : (1L << 32) / Math.abs(component);
    long quotient = component < 0 ? -magnitude : magnitude;
    boolean fits = quotient == (int) quotient;
    assertEquals(!fits, parallel, () -> "parallel for " + component);
    if (fits) {
      assertEquals(quotient, inverse, () -> "inverse of " + component);
    }
  }

  private static double sign(RandomStream chance) {
    return 2 * chance.unit() - 1;
  }

  /** Colours, counts and shadows of a scene of all solids, against the same light in reals. */
  static void picturesAreAsInReals(CompiledDesign model, int pixels, long seed) {
    int[] materials = {0x00F0A040, 0x60C0C0D0, 0xFF202830, 0x804080FF};
    RandomStream chance = RandomStream.of(seed);
    int compared = 0;
    int[] kinds = new int[8];
    try (SequencerDriver driver = new SequencerDriver(model, seed)) {
      StandInScene scene =
          new StandInScene()
              .halfSpace(1, 0, 0, 1, -1)
              .sphere(2, 0, 0, 0.5, 1.5)
              .sphere(0, 2.5, -1, 0, 0.75)
              .sphere(3, -2, -2, -0.5, 0.5)
              .box(3, -3.5, 0.5, -1, -2.5, 1.5, 1)
              .box(0, 1.5, 1.5, -0.5, 2.5, 2.5, 0.5);
      driver.scene(scene, materials);
      double[] eye = {0.5, -7, 1.5};
      Settings settings =
          new Settings(
              eye,
              new double[] {-0.8, 1.5, 0.4},
              new double[] {1.6 / 256, 0, 0},
              new double[] {0, 0, -1.0 / 256},
              unit(2, -3, 4),
              EPSILON,
              40,
              0x203060);
      driver.settings(settings.codes());
      for (int i = 0; i < pixels; i++) {
        int x = chance.below(256);
        int y = chance.below(256);
        Pixel pixel = driver.pixel(x, y);
        IdealLight ideal = new IdealLight(scene, settings, materials);
        double[] wanted = ideal.colour(x, y);
        kinds[pixel.kinds()]++;
        if (wanted == null) {
          continue; // at an edge, where the precision decides
        }
        compared++;
        assertEquals(ideal.kinds(), pixel.kinds(), () -> "rays of " + x + ", " + y);
        for (int k = 0; k < 3; k++) {
          assertEquals(
              wanted[k],
              pixel.colour() >> 8 * k & 0xFF,
              ROUNDED + ideal.spread() / 4,
              "channel " + k + " of " + x + ", " + y);
        }
      }
    }
    assertTrue(compared > 0.8 * pixels, compared + " pixels of " + pixels + " could be compared");
    assertTrue(
        (kinds[0] > 0 && kinds[1] > 0 && kinds[3] > 0 && kinds[6] > 0 && kinds[7] > 0)
            || pixels < 400,
        () -> Arrays.toString(kinds));
  }

  /** Light in reals, from the definitions alone. */
  private static final class IdealLight {
    private static final double EDGE = 4e-4;

    private final StandInScene scene;
    private final Settings settings;
    private final int[] materials;
    private int kinds;
    private double spread;

    IdealLight(StandInScene scene, Settings settings, int[] materials) {
      this.scene = scene;
      this.settings = settings;
      this.materials = materials;
    }

    /** Which rays the pixel itself took. */
    int kinds() {
      return kinds;
    }

    /** How much channels differ a little beside: {@link #EDGE} is eight times what rays are off. */
    double spread() {
      return spread;
    }

    /** Channels from the lowest; null where a pixel a little beside meets something else. */
    double[] colour(int x, int y) {
      int around = -1;
      double[] middle = null;
      double[] low = {255, 255, 255};
      double[] high = new double[3];
      for (double[] beside :
          new double[][] {{EDGE, EDGE}, {-EDGE, EDGE}, {EDGE, -EDGE}, {-EDGE, -EDGE}, {0, 0}}) {
        double[] view = new double[3];
        for (int k = 0; k < 3; k++) {
          view[k] =
              settings.corner()[k]
                  + x * settings.stepX()[k]
                  + y * settings.stepY()[k]
                  + beside[k == 2 ? 1 : 0] * (k == 1 ? 0 : 1);
        }
        kinds = 0;
        trail = 17;
        middle = seen(settings.eye(), unit(view), false);
        if (around >= 0 && around != trail) {
          return null;
        }
        around = trail;
        for (int k = 0; k < 3; k++) {
          low[k] = Math.min(low[k], middle[k]);
          high[k] = Math.max(high[k], middle[k]);
        }
      }
      spread = Math.max(high[0] - low[0], Math.max(high[1] - low[1], high[2] - low[2]));
      return middle;
    }

    /** Tells which surfaces were met and which were lit. */
    private int trail;

    private double[] seen(double[] origin, double[] direction, boolean mirrored) {
      Hit hit = scene.meet(origin, direction, 0);
      trail = trail * 31 + (hit == null ? 0 : hit.address() * 8 + hit.face() + 1);
      if (hit == null) {
        return channels(settings.background());
      }
      boolean turned = StandInScene.dot(hit.normal(), direction) > 0;
      double[] normal = scaled(turned ? -1 : 1, hit.normal());
      double[] beside = new double[3];
      for (int k = 0; k < 3; k++) {
        beside[k] = origin[k] + hit.distance() * direction[k] + settings.epsilon() * normal[k];
      }
      double share = StandInScene.dot(normal, settings.lamp());
      trail = trail * 2 + (share > 0 ? 1 : 0);
      if (share > 0) {
        kinds |= mirrored ? 4 : 1;
        boolean blocked = scene.meet(beside, settings.lamp(), 0) != null;
        trail = trail * 2 + (blocked ? 1 : 0);
        share = blocked ? 0 : share;
      }
      share = Math.max(0, share);
      double level = settings.ambient() / 256.0 + (1 - settings.ambient() / 256.0) * share;
      int material = materials[hit.material()];
      double[] own = scaled(level, channels(material));
      double tint = (material >>> 24) / 255.0;
      if (mirrored || tint == 0) {
        return own;
      }
      kinds |= 2;
      double along = StandInScene.dot(direction, normal);
      double[] reflected = new double[3];
      for (int k = 0; k < 3; k++) {
        reflected[k] = direction[k] - 2 * along * normal[k];
      }
      double[] other = seen(beside, reflected, true);
      for (int k = 0; k < 3; k++) {
        own[k] += tint * (other[k] - own[k]);
      }
      return own;
    }

    private static double[] channels(int colour) {
      return new double[] {colour & 0xFF, colour >> 8 & 0xFF, colour >> 16 & 0xFF};
    }
  }
}
