package dev.plumbline.samples.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cases.RandomScenes;
import dev.plumbline.cosim.Dut;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.WordLayout;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.models.traversal.Retirement;
import dev.plumbline.models.traversal.SceneUnits;
import dev.plumbline.models.traversal.SurfaceNumber;
import dev.plumbline.models.traversal.Traversal;
import dev.plumbline.samples.SampleExecutor;
import dev.plumbline.stimulus.RandomStream;
import java.math.BigInteger;
import java.util.Arrays;
import java.util.IntSummaryStatistics;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.TreeSet;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Contexts that share the solids' pipelines: what a ray meets depends on none of the others. */
@Tag("thorough")
class SceneContextsTest {
  private static final SampleExecutor SMALL = SampleExecutor.SMALL;
  private static final int RAYS = 48;
  private static final int TAG_BITS = 6;
  private static final int MOST_CYCLES = 400_000;

  private final RandomStream chance = RandomStream.of(23);

  /** A result as text: hit, and of a nearest one what and where. */
  private static String text(boolean anyHit, long hit, long distance, long address, long face) {
    return hit == 0 ? "nothing" : anyHit ? "blocked" : distance + " at " + address + "." + face;
  }

  private static String[] expected(Program program, Rays rays) {
    String[] results = new String[RAYS];
    Traversal.exact(SceneUnits.of(SMALL.formats()), SMALL.spans())
        .run(program, rays, 0, RAYS, null, retirement -> note(retirement, results));
    return results;
  }

  private static void note(Retirement retirement, String[] results) {
    if (retirement.isLast()) {
      results[retirement.ray()] =
          text(
              retirement.isAnyHit(),
              retirement.isFound() ? 1 : 0,
              retirement.distance(),
              SurfaceNumber.address(retirement.surface()),
              SurfaceNumber.face(retirement.surface()));
    }
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 2, 3, 4})
  void everyRayMeetsWhatItMeetsAlone(int contexts) {
    Map<String, Integer> widths = new LinkedHashMap<>();
    Rays.names().forEach(name -> widths.put(name, width(name)));
    RandomScenes scenes = RandomScenes.of(SMALL.formats(), SMALL.limits(), SMALL.spans(), chance);
    try (Dut dut = open(contexts, SMALL.queue())) {
      int inverted = 0;
      for (int scene = 0; scene < 24; scene++) {
        Program program = scenes.next();
        Rays rays = Rays.of(SMALL.formats(), RAYS);
        scenes.rays(rays, 0, RAYS);
        for (int ray = 0; ray < RAYS; ray++) {
          rays.column("tag")[ray] = ray;
        }
        load(dut, program);
        inverted += check(dut, contexts, rays, widths, expected(program, rays));
      }
      assertTrue(contexts == 1 ? inverted == 0 : inverted > 0, "results out of order");
    }
  }

  private static Dut open(int contexts, int queue) {
    return ChipBlock.model(
            "scene_contexts",
            "N=" + contexts,
            "W=16",
            "F=8",
            "DW=10",
            "DF=8",
            "C=" + SMALL.spans(),
            "S=" + SMALL.lists(),
            "A=" + SMALL.addressBits(),
            "P=" + SMALL.predictionBits(),
            "Q=" + queue,
            "TAG=" + TAG_BITS)
        .open();
  }

  /**
   * Rays that begin together with the same program, none of whose operations waits for a queue or a
   * combination, are served in a circle, so each has retired as many as the others; a close takes
   * two cycles, so one more or less.
   */
  @Test
  void contextsAreServedInACircle() {
    int contexts = 3;
    int objects = 15;
    Program.Builder builder = Program.builder(SMALL.formats(), SMALL.limits());
    for (int object = 0; object < objects; object++) {
      builder.begin().sphere(1, 256, 0, 0, 128).close();
    }
    Program program = builder.end().build();
    try (Dut dut = open(contexts, 64)) {
      load(dut, program);
      dut.set("ray_valid", (1 << contexts) - 1);
      dut.set("result_ready", 0);
      dut.cycle();
      dut.set("ray_valid", 0);
      int[] retired = new int[contexts];
      for (int cycle = 0; IntStream.of(retired).sum() < contexts * (3 * objects + 1); cycle++) {
        assertTrue(cycle < 1000, "operations that retired: " + Arrays.toString(retired));
        dut.settle();
        long retires = dut.get("retire_valid");
        for (int k = 0; k < contexts; k++) {
          retired[k] += (int) (retires >> k & 1);
        }
        IntSummaryStatistics counts = IntStream.of(retired).summaryStatistics();
        assertTrue(counts.getMax() - counts.getMin() <= 2, () -> Arrays.toString(retired));
        dut.cycle();
      }
    }
  }

  private static int width(String name) {
    return name.equals("tag")
        ? TAG_BITS
        : name.startsWith("parallel") || name.equals("any_hit")
            ? 1
            : name.startsWith("direction") ? SMALL.direction().width() : SMALL.word().width();
  }

  private static void load(Dut dut, Program program) {
    dut.set("rst", 1);
    dut.cycle();
    dut.set("rst", 0);
    BigInteger[] words = WordLayout.standard(SMALL.formats()).encode(program);
    dut.set("load_valid", 1);
    for (int address = 0; address < words.length; address++) {
      dut.set("load_address", address);
      set(dut, "load_word", words[address], 24 + 6 * SMALL.word().width());
      dut.cycle();
    }
    dut.set("load_valid", 0);
  }

  /** Runs all rays and counts results that came before that of an earlier ray. */
  private int check(
      Dut dut, int contexts, Rays rays, Map<String, Integer> widths, String[] expected) {
    int[] offered = IntStream.generate(() -> -1).limit(contexts).toArray();
    TreeSet<Integer> waiting = new TreeSet<>();
    int next = 0;
    int done = 0;
    int inverted = 0;
    for (int cycle = 0; done < RAYS; cycle++) {
      assertTrue(cycle < MOST_CYCLES, "no more results after " + done);
      long ready = 0;
      long valid = 0;
      for (int k = 0; k < contexts; k++) {
        if (offered[k] < 0 && next < RAYS && chance.below(3) == 0) {
          offered[k] = next++;
          waiting.add(offered[k]);
        }
        valid |= offered[k] < 0 ? 0 : 1L << k;
        ready |= chance.below(4) == 0 ? 0 : 1L << k;
      }
      dut.set("ray_valid", valid);
      dut.set("result_ready", ready);
      for (Map.Entry<String, Integer> operand : widths.entrySet()) {
        BigInteger all = BigInteger.ZERO;
        for (int k = contexts - 1; k >= 0; k--) {
          long code = offered[k] < 0 ? 0 : rays.column(operand.getKey())[offered[k]];
          all = all.shiftLeft(operand.getValue()).or(field(code, operand.getValue()));
        }
        set(dut, "ray_" + operand.getKey(), all, contexts * operand.getValue());
      }
      dut.settle();
      long taken = valid & dut.get("ray_ready");
      long given = ready & dut.get("result_valid");
      for (int k = 0; k < contexts; k++) {
        if ((given >> k & 1) == 1) {
          int ray = (int) field(dut, "result_tag", k, TAG_BITS);
          assertTrue(waiting.remove(ray), "ray " + ray + " in cycle " + cycle);
          inverted += waiting.isEmpty() || waiting.first() > ray ? 0 : 1;
          boolean anyHit = rays.column("any_hit")[ray] == 1;
          long distance = field(dut, "result_distance", k, 16) << 48 >> 48;
          String result =
              text(
                  anyHit,
                  field(dut, "result_hit", k, 1),
                  distance,
                  field(dut, "result_address", k, SMALL.addressBits()),
                  field(dut, "result_face", k, 3));
          assertEquals(expected[ray], result, "ray " + ray + " of context " + k);
          done++;
        }
        offered[k] = (taken >> k & 1) == 1 ? -1 : offered[k];
      }
      dut.cycle();
    }
    return inverted;
  }

  private static BigInteger field(long code, int width) {
    return BigInteger.valueOf(code).mod(BigInteger.ONE.shiftLeft(width));
  }

  private static void set(Dut dut, String port, BigInteger value, int width) {
    long[] words = new long[(width + 63) / 64];
    for (int k = 0; k < words.length; k++) {
      words[k] = value.shiftRight(64 * k).longValue();
    }
    dut.set(port, words);
  }

  private static long field(Dut dut, String port, int k, int width) {
    BigInteger value = BigInteger.ZERO;
    long[] words = dut.getWords(port);
    for (int w = words.length - 1; w >= 0; w--) {
      value =
          value.shiftLeft(64).or(BigInteger.valueOf(words[w]).mod(BigInteger.ONE.shiftLeft(64)));
    }
    return value.shiftRight(k * width).mod(BigInteger.ONE.shiftLeft(width)).longValue();
  }
}
