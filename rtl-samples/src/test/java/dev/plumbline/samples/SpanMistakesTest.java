package dev.plumbline.samples;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.Reference;
import dev.plumbline.contract.Suspect;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** What a combiner of spans is suspected of: the rule itself where nothing is, another where so. */
class SpanMistakesTest {
  private static final int CASES = 4_000;
  private final SpanReference plain = SpanBench.reference();

  /** Ascending lists on a narrow lattice, so that many ends of both meet. */
  private void fill(Reference.Evaluation evaluation) {
    Random random = new Random(7);
    int ends = plain.ends();
    for (int n = 0; n < CASES; n++) {
      evaluation.input(0, 0)[n] = random.nextInt(3);
      for (int side = 0; side < 2; side++) {
        int list = 1 + side * (1 + 3 * ends);
        int spans = random.nextInt(ends / 2 + 1);
        evaluation.input(list, 0)[n] = spans;
        long at = -random.nextInt(12);
        for (int end = 0; end < ends; end++) {
          at += 1 + random.nextInt(3);
          evaluation.input(list + 1 + 3 * end, 0)[n] = at;
          evaluation.input(list + 2 + 3 * end, 0)[n] = random.nextInt(1 << plain.surfaceBits());
          evaluation.input(list + 3 + 3 * end, 0)[n] = random.nextInt(2);
        }
      }
    }
  }

  private long[][] results(Reference reference) {
    Reference.Evaluation evaluation = reference.open(CASES);
    fill(evaluation);
    evaluation.run(CASES);
    long[][] results = new long[reference.outputs().size()][];
    for (int o = 0; o < results.length; o++) {
      results[o] = evaluation.low(o, 0).clone();
    }
    return results;
  }

  @Test
  void withoutAMistakeTheRulesGiveWhatTheReferenceGives() {
    long[][] expected = results(plain);
    long[][] actual = results(SpanMistakes.none(plain));
    for (int o = 0; o < expected.length; o++) {
      assertArrayEquals(expected[o], actual[o], plain.outputs().get(o).name());
    }
  }

  @Test
  void everyMistakeShowsAndIsSaidOnce() {
    long[][] right = results(plain);
    List<Suspect> suspects = plain.suspects();
    for (Suspect one : suspects) {
      assertEquals(plain.inputs(), one.reference().inputs(), one.words());
      assertEquals(plain.outputs(), one.reference().outputs(), one.words());
      assertTrue(!Arrays.deepEquals(right, results(one.reference())), one.words());
    }
    assertEquals(suspects.size(), suspects.stream().map(Suspect::words).distinct().count());
  }
}
