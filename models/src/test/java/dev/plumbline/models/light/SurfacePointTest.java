package dev.plumbline.models.light;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.Evaluated;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.SceneFormats;
import java.math.BigDecimal;
import java.math.BigInteger;
import java.math.RoundingMode;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * The datapaths of light against their declared rules in exact decimals, and the laws of their
 * three evaluations, in formats by chance.
 */
class SurfacePointTest {
  private static final BigDecimal HALF = new BigDecimal("0.5");

  /** The declared rounding: floor(x 2^f + 1/2), saturated; a value of the format. */
  private static BigDecimal near(BigDecimal x, Format format) {
    BigInteger code =
        x.multiply(power(format.fractionBits()))
            .add(HALF)
            .setScale(0, RoundingMode.FLOOR)
            .toBigInteger();
    return value(code.max(format.minCode()).min(format.maxCode()), format);
  }

  private static BigDecimal power(int two) {
    return new BigDecimal(BigInteger.ONE.shiftLeft(two));
  }

  private static BigDecimal value(BigInteger code, Format format) {
    return new BigDecimal(code).divide(power(format.fractionBits()));
  }

  private static SceneFormats formats(Random random) {
    int width = 10 + random.nextInt(23);
    int direction = 8 + random.nextInt(width - 7);
    int places = 4 + random.nextInt(direction - 5);
    int fraction = random.nextInt(Math.min(width - 1, 2 * places) + 1);
    return SceneFormats.of(new Format(true, width, fraction), new Format(true, direction, places));
  }

  /** Codes by chance of every size, ends among them; what is a share stays one. */
  private static long[][] cases(Datapath datapath, Random random, int count) {
    long[][] columns = new long[datapath.inputs().size()][count];
    for (int k = 0; k < columns.length; k++) {
      Operand operand = datapath.inputs().get(k);
      Format format = operand.format();
      for (int i = 0; i < count; i++) {
        int bits = random.nextInt(format.width() + 1);
        long code = bits == 0 ? 0 : random.nextLong() >>> (Long.SIZE - bits);
        columns[k][i] = format.extend(code);
        if (operand.name().equals("face")) {
          columns[k][i] = random.nextInt(6);
        } else if (List.of("ambient", "cosine", "share").contains(operand.name())) {
          columns[k][i] = Math.min(1L << format.fractionBits(), columns[k][i]);
        }
      }
    }
    return columns;
  }

  /** The operands of one case, as exact values. */
  private record Case(Datapath datapath, long[][] columns, int row) {
    BigDecimal get(String name) {
      int index = Codes.index(datapath.inputs(), name);
      Format format = datapath.inputs().get(index).format();
      return value(BigInteger.valueOf(columns[index][row]), format);
    }

    BigDecimal[] vector(String name) {
      return IntStream.range(0, 3)
          .mapToObj(axis -> get(name + "_" + "xyz".charAt(axis)))
          .toArray(BigDecimal[]::new);
    }

    boolean is(String name) {
      return get(name).signum() != 0;
    }
  }

  private static BigDecimal dot(BigDecimal[] a, BigDecimal[] b) {
    return a[0].multiply(b[0]).add(a[1].multiply(b[1])).add(a[2].multiply(b[2]));
  }

  @Test
  void surfacePointsFollowTheirRules() {
    Random random = new Random(20261129);
    for (int round = 0; round < 12; round++) {
      SceneFormats formats = formats(random);
      Datapath datapath = SurfacePoint.datapath(formats);
      long[][] columns = cases(datapath, random, 50);
      Evaluated bits = Evaluated.bits(datapath, columns);
      for (int i = 0; i < 50; i++) {
        requireRules(new Case(datapath, columns, i), formats, bits);
      }
    }
  }

  private static void requireRules(Case given, SceneFormats formats, Evaluated bits) {
    Format word = formats.word();
    Format unit = formats.direction();
    BigDecimal[] direction = given.vector("direction");
    BigDecimal[] point = new BigDecimal[3];
    BigDecimal[] normal = new BigDecimal[3];
    for (int k = 0; k < 3; k++) {
      BigDecimal way = given.get("distance").multiply(direction[k]);
      point[k] = near(given.vector("origin")[k].add(way), word);
      if (given.is("sphere")) {
        BigDecimal arm = point[k].subtract(given.vector("centre")[k]);
        normal[k] = near(arm.multiply(given.get("inverse_radius")), unit);
      } else if (given.is("box")) {
        int face = given.get("face").intValueExact();
        normal[k] = near(new BigDecimal(face / 2 != k ? 0 : face % 2 == 1 ? 1 : -1), unit);
      } else {
        normal[k] = given.vector("plane")[k];
      }
    }
    boolean away = dot(normal, direction).signum() > 0;
    for (int k = 0; k < 3 && away; k++) {
      normal[k] = near(normal[k].negate(), unit);
    }
    BigDecimal cosine = dot(normal, given.vector("lamp"));
    cosine = near(cosine, Format.signed(64, 16)).max(BigDecimal.ZERO).min(BigDecimal.ONE);
    require(given, bits, "cosine", cosine);
    BigDecimal along = near(dot(normal, direction), Format.signed(64, unit.fractionBits()));
    for (int k = 0; k < 3; k++) {
      String axis = "_" + "xyz".charAt(k);
      require(given, bits, "normal" + axis, normal[k]);
      BigDecimal off = given.get("epsilon").multiply(normal[k]);
      require(given, bits, "start" + axis, near(point[k].add(off), word));
      BigDecimal turned = along.add(along).multiply(normal[k]);
      require(given, bits, "reflected" + axis, near(direction[k].subtract(turned), unit));
    }
  }

  private static void require(Case given, Evaluated bits, String output, BigDecimal expected) {
    Format format =
        given.datapath().outputs().get(Codes.index(given.datapath().outputs(), output)).format();
    BigDecimal got = value(BigInteger.valueOf(bits.codes(output)[given.row()]), format);
    assertEquals(
        0,
        expected.compareTo(got),
        () ->
            output
                + " "
                + got
                + " for "
                + expected
                + " of "
                + Evaluated.describe(given.datapath(), given.columns(), given.row()));
  }

  @Test
  void channelsFollowTheirRules() {
    Random random = new Random(3);
    Datapath lit = ColourChannel.lit();
    long[][] columns = cases(lit, random, 2000);
    long[] own = Evaluated.bits(lit, columns).codes("own");
    Datapath mixed = ColourChannel.mixed();
    long[][] mixes = cases(mixed, random, 2000);
    long[] mix = Evaluated.bits(mixed, mixes).codes("mixed");
    for (int i = 0; i < 2000; i++) {
      long level = columns[1][i] + ((256 - columns[1][i]) * columns[2][i] >> 16);
      assertEquals((columns[0][i] * level + 128) >> 8, own[i]);
      long more = (mixes[1][i] * mixes[2][i] + 128) >> 8;
      long less = (mixes[0][i] * mixes[2][i] + 128) >> 8;
      assertEquals(Math.max(0, Math.min(255, mixes[0][i] + more - less)), mix[i]);
    }
  }

  @Test
  void primaryRaysFollowTheirRules() {
    Random random = new Random(5);
    for (int round = 0; round < 3; round++) {
      SceneFormats formats = formats(random);
      Format word = formats.word();
      Datapath datapath = PrimaryRay.normalised(formats);
      long[][] columns = cases(datapath, random, 50);
      Evaluated bits = Evaluated.bits(datapath, columns);
      for (int i = 0; i < 50; i++) {
        Case given = new Case(datapath, columns, i);
        BigDecimal[] u = new BigDecimal[3];
        for (int k = 0; k < 3; k++) {
          BigDecimal aside = given.get("pixel_x").multiply(given.vector("right")[k]);
          BigDecimal below = given.get("pixel_y").multiply(given.vector("down")[k]);
          u[k] = near(given.vector("corner")[k].add(aside).add(below), word);
        }
        // As codes: floor(sqrt(c 2^F)), floor(2^2F / root), the largest for 0; saturated.
        BigInteger unit = BigInteger.ONE.shiftLeft(word.fractionBits());
        BigInteger squared =
            near(dot(u, u), word).multiply(new BigDecimal(unit)).toBigIntegerExact();
        BigInteger root = squared.multiply(unit).sqrt();
        BigInteger inverse =
            root.signum() == 0
                ? word.maxCode()
                : unit.multiply(unit).divide(root).min(word.maxCode());
        for (int k = 0; k < 3; k++) {
          BigDecimal expected = near(u[k].multiply(value(inverse, word)), formats.direction());
          require(given, bits, "direction_" + "xyz".charAt(k), expected);
        }
      }
    }
  }

  @Test
  @Tag("thorough")
  void bitsAndIdealLieInTheBounds() {
    Random random = new Random(7);
    for (int round = 0; round < 10; round++) {
      SceneFormats formats = formats(random);
      for (Datapath datapath :
          List.of(
              SurfacePoint.datapath(formats),
              PrimaryRay.stepped(formats),
              PrimaryRay.normalised(formats),
              ColourChannel.lit(),
              ColourChannel.mixed())) {
        long[][] columns = cases(datapath, random, 300);
        assertTrue(Evaluated.lawsHold(datapath, columns, 0.01).size() > 0);
      }
    }
  }
}
