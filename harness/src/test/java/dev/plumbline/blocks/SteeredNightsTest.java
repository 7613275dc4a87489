package dev.plumbline.blocks;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.check.Bench;
import dev.plumbline.check.GearTrain;
import dev.plumbline.contract.CoveragePoints;
import dev.plumbline.contract.Reference;
import dev.plumbline.drive.Segment;
import dev.plumbline.drive.SteeredStimulus;
import dev.plumbline.models.datapath.BitEvaluation;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.stimulus.Stimulus;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * Nights of the ready-made benches by their date seeds, without a DUT: the declared number of cases
 * reaches every coverage point, whatever the seed.
 */
@Tag("thorough")
class SteeredNightsTest {
  private static final int NIGHTS =
      Integer.getInteger("plumbline.nights", Boolean.getBoolean("plumbline.long") ? 90 : 3);
  private static final LocalDate FIRST = LocalDate.of(2026, 12, 1);

  private static final List<Format> WORDS =
      List.of(Format.signed(16, 16), Format.signed(18, 14), Format.signed(12, 20));

  private static Map<String, BlockBench<?>> benches() {
    Map<String, BlockBench<?>> benches = new LinkedHashMap<>();
    for (Format word : WORDS) {
      Format unit = Format.signed(2, word.fractionBits());
      benches.put("sphere " + word, SphereBench.of(any()).word(word).direction(unit));
      benches.put("sphere exact " + word, SphereBench.of(any()).word(word).direction(unit).exact());
      benches.put("plane " + word, PlaneBench.of(any()).word(word).direction(unit));
      benches.put("box " + word, BoxBench.of(any()).word(word).direction(unit));
      benches.put("box exact " + word, BoxBench.of(any()).word(word).direction(unit).exact());
      benches.put("box by inverse " + word, BoxBench.of(any()).word(word).inverse(word));
      benches.put("reciprocal " + word, ReciprocalBench.of(any()).formats(word, word));
      benches.put("square root " + word, SquareRootBench.of(any()).word(word));
    }
    return benches;
  }

  /** A design, which is not looked at. */
  private static Bench.Builder any() {
    return GearTrain.bench(GearTrain.Fault.NONE);
  }

  @Test
  void everyNightReachesEveryPoint() {
    Map<String, Map<String, Integer>> missed = new TreeMap<>();
    benches()
        .forEach(
            (name, bench) -> {
              Map<String, Integer> points = new TreeMap<>();
              for (int night = 0; night < NIGHTS; night++) {
                String date = FIRST.plusDays(night).format(DateTimeFormatter.BASIC_ISO_DATE);
                for (String point : missed(bench, name, Long.parseLong(date))) {
                  points.merge(point, 1, Integer::sum);
                }
              }
              System.out.println(name + ", " + NIGHTS + " nights: missed " + points);
              missed.put(name, points);
            });
    missed.values().removeIf(Map::isEmpty);
    assertEquals(Map.of(), missed);
  }

  private static List<String> missed(BlockBench<?> bench, String name, long seed) {
    Reference reference = bench.reference(bench.isExact());
    CoveragePoints points = bench.whereDecided(CoveragePoints.of(bench.coverage()));
    Stimulus stimulus = SteeredStimulus.of(bench.ownStimulus(), points, reference);
    Segment segment = Segment.of(RandomStream.derive(seed, name), 0, SteeredStimulus.CASES, 65_536);

    int cases = SteeredStimulus.CASES;
    Reference.Evaluation evaluation = reference.open(cases);
    long[][][] columns = new long[reference.inputs().size()][][];
    for (int i = 0; i < columns.length; i++) {
      columns[i] = new long[reference.inputs().get(i).format().words()][];
      for (int word = 0; word < columns[i].length; word++) {
        columns[i][word] = evaluation.input(i, word);
      }
    }
    stimulus
        .open(reference.inputs(), segment.seedOf(Segment.Use.CASES), segment.firstCase())
        .fill(columns, 0, cases);
    evaluation.run(cases);
    BitEvaluation bits = points.datapath().bits(cases);
    int[] operands = points.operandsOf(reference);
    for (int i = 0; i < operands.length; i++) {
      for (int word = 0; word < columns[operands[i]].length; word++) {
        System.arraycopy(columns[operands[i]][word], 0, bits.input(i, word), 0, cases);
      }
    }
    bits.run(cases);
    int[] decisions = points.decisionsOf(reference);
    List<String> missed = new ArrayList<>();
    for (int point = 0; point < points.names().size(); point++) {
      boolean reached = false;
      for (int row = 0; row < cases; row++) {
        reached |=
            bits.output(point, 0)[row] != 0
                && (decisions[point] < 0 || isDecided(evaluation, decisions[point], row));
      }
      if (!reached) {
        missed.add(points.names().get(point));
      }
    }
    assertTrue(points.names().size() > 3, name);
    return missed;
  }

  private static boolean isDecided(Reference.Evaluation evaluation, int output, int row) {
    return evaluation.low(output, 0)[row] == evaluation.high(output, 0)[row];
  }
}
