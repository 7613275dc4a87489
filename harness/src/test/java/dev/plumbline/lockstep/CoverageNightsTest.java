package dev.plumbline.lockstep;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cases.DirectedScenes;
import dev.plumbline.drive.Engine;
import dev.plumbline.drive.Segment;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.traversal.Pace;
import dev.plumbline.models.traversal.Predictor;
import dev.plumbline.models.traversal.SceneUnits;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.stimulus.SeedText;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * Nights by their date seeds, the model alone: whatever the seed, the declared number of rays
 * reaches every coverage point.
 */
@Tag("thorough")
class CoverageNightsTest {
  private static final int NIGHTS =
      Integer.getInteger("plumbline.nights", Boolean.getBoolean("plumbline.long") ? 90 : 4);
  private static final long RAYS = Long.getLong("plumbline.nightRays", 512);
  private static final LocalDate FIRST = LocalDate.of(2026, 12, 1);

  /** Seeds as the night takes them, such as 20261201. */
  private static List<Long> seeds() {
    List<Long> seeds = new ArrayList<>();
    for (int night = 0; night < NIGHTS; night++) {
      String date = FIRST.plusDays(night).format(DateTimeFormatter.BASIC_ISO_DATE);
      seeds.add(Long.parseLong(date));
    }
    return seeds;
  }

  private static Executor.Builder executor(
      SceneFormats formats, int length, int depth, int materials, int spans) {
    return Executor.of(formats, new ProgramLimits(length, depth, materials)).spans(spans);
  }

  /** The sample chip's. */
  private static Pace early(int latency, int queue) {
    return Pace.of(latency, queue)
        .withEarlyDecision(10, 2)
        .withFlush(3)
        .withLearning(2)
        .withClose(1)
        .withResult(2);
  }

  private static SceneFormats formats(int whole, int fraction) {
    return SceneFormats.of(Format.signed(whole, fraction), Format.signed(2, fraction));
  }

  private static void reachesEverything(String name, Executor executor) {
    Map<String, Integer> missed = new TreeMap<>();
    for (long seed : seeds()) {
      missed(name, executor, seed).forEach(point -> missed.merge(point, 1, Integer::sum));
    }
    System.out.println(name + ", " + NIGHTS + " nights of " + RAYS + " rays: missed " + missed);
    assertEquals(Map.of(), missed, name);
  }

  /** What a night's rays do not reach: the blocks of every segment, without a DUT. */
  private static List<String> missed(String name, Executor executor, long seed) {
    Ports ports =
        new Ports(
            executor,
            new SoftPorts(executor.formats(), executor.limits(), executor.spans()).design());
    Driving driving =
        new Driving(
            Optional.empty(), Pacing.varied(), Pacing.varied(), 1.0 / 8192, Optional.empty());
    Engine.Maker none =
        opening -> {
          throw new IllegalStateException("There is no DUT here.");
        };
    LockstepSubject subject = new LockstepSubject(executor, ports, driving, none, true, false);
    long[] met = new long[subject.coverage().size()];
    long stream = RandomStream.derive(seed, name);
    long segments = (RAYS + subject.segmentCases() - 1) / subject.segmentCases();
    for (long number = 0; number < segments; number++) {
      Segment segment = Segment.of(stream, number, RAYS, subject.segmentCases());
      List<Long> counts = new LockstepRunner(subject).countAlone(segment);
      for (int point = 0; point < met.length; point++) {
        met[point] += counts.get(point);
      }
    }
    List<String> missed = new ArrayList<>();
    for (int point = 0; point < met.length; point++) {
      if (met[point] == 0) {
        missed.add(subject.coverage().get(point));
      }
    }
    return missed;
  }

  @Test
  void theStandardExecutorReachesEveryPointInEveryNight() {
    reachesEverything(
        "scene_executor s16.16",
        executor(formats(16, 16), 1024, 4, 256, 4)
            .timing(early(54, 64), Predictor.Policy.TWO_BIT, 4)
            .build());
  }

  @Test
  void theSmallExecutorReachesEveryPointInEveryNight() {
    reachesEverything(
        "scene_executor s8.8 small",
        executor(formats(8, 8), 64, 3, 8, 2)
            .timing(early(38, 12), Predictor.Policy.TWO_BIT, 2)
            .build());
  }

  @Test
  void executorsOfOtherShapesReachEveryPoint() {
    reachesEverything("flat", executor(formats(6, 4), 32, 1, 1, 1).build());
    reachesEverything("tiny", executor(formats(4, 4), 24, 2, 3, 1).build());
    reachesEverything(
        "one bit",
        executor(formats(12, 20), 300, 8, 17, 12)
            .timing(9, 3, Predictor.Policy.ONE_BIT, 0)
            .build());
    reachesEverything(
        "large",
        executor(formats(18, 14), 4096, 5, 64, 3).timing(20, 8, Predictor.Policy.NONE, 0).build());
  }

  /** Without any scene by chance, in shapes drawn over what limits and formats allow. */
  @Test
  void constructedScenesAloneReachEveryPointOfAnyExecutor() {
    RandomStream chance = RandomStream.of(SeedText.ofRun());
    for (int shape = 0; shape < 4 * NIGHTS; shape++) {
      int fraction = 4 + chance.below(20);
      int depth = 1 + chance.below(6);
      Executor.Builder drawn =
          executor(
              formats(2 + chance.below(31 - fraction), fraction),
              1 + chance.below(chance.below(4) == 0 ? 1200 : 70),
              depth,
              1 + chance.below(300),
              1 + chance.below(8));
      // So narrow a word that the margin fills it would have no box missed.
      SceneFormats formats = drawn.build().formats();
      int bits = Math.min(8, formats.word().width() - 1);
      drawn.units(SceneUnits.of(formats, chance.below(1 << chance.below(bits + 1))));
      Predictor.Policy[] policies = Predictor.Policy.values();
      Executor executor =
          chance.below(5) == 0
              ? drawn.build()
              : drawn
                  .timing(pace(chance), policies[chance.below(policies.length)], chance.below(7))
                  .build();
      String name = shape + ": " + executor.formats() + " " + executor.limits();
      assertEquals(List.of(), missedByConstructed(executor, chance.next()), name);
    }
  }

  private static Pace pace(RandomStream chance) {
    int latency = 1 + chance.below(60);
    Pace pace = Pace.of(latency, 1 + chance.below(70));
    return chance.below(2) == 0
        ? pace
        : pace.withEarlyDecision(chance.below(latency), 1 + chance.below(4))
            .withFlush(1 + chance.below(4))
            .withLearning(1 + chance.below(3))
            .withClose(chance.below(2));
  }

  private static List<String> missedByConstructed(Executor executor, long seed) {
    SceneCoverage coverage = new SceneCoverage(executor, true, true, false, false);
    Expectation expected = new Expectation(executor, coverage, Change.NONE);
    expected.begin(List.of(), List.of());
    int count = 0;
    for (DirectedScenes.Scene scene :
        DirectedScenes.of(
                executor.formats(),
                executor.limits(),
                executor.spans(),
                executor.entries(),
                RandomStream.of(seed))
            .all()) {
      int rays = scene.rays().capacity();
      assertTrue(rays <= Block.RAYS);
      expected.run(scene.program(), scene.rays(), rays, false, false);
      count += rays;
    }
    assertTrue(256 + count <= LockstepBench.COVERAGE_CASES, count + " rays");
    List<Long> met = coverage.take();
    List<String> missed = new ArrayList<>(coverage.names());
    for (int point = met.size() - 1; point >= 0; point--) {
      if (met.get(point) > 0) {
        missed.remove(point);
      }
    }
    return missed;
  }
}
