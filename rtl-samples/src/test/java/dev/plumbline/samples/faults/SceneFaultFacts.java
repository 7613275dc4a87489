package dev.plumbline.samples.faults;

import static dev.plumbline.verdict.MismatchGroup.LikelyKind.CAPACITY;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.CONSTANT;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.DECISION;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.EXCHANGED;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.GAP;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.INITIAL_STATE;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.LEFT_OVER;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.NEIGHBOUR;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.ORDER;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.OVERFLOW;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.RESET;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.ROUNDING;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.SIGN;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.STALL;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.TIMING;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.WIDTH;
import static java.util.Map.entry;

import dev.plumbline.faults.Fault;
import dev.plumbline.verdict.MismatchGroup.LikelyKind;
import java.util.Map;
import java.util.Set;

/**
 * What is known of a scene executor's faults from their sentences in the catalogue and from the
 * header of scene_executor.sv: which kind is right, and how many solids, skips and combinations a
 * ray has to meet at least before anything can be wrong.
 */
final class SceneFaultFacts {
  private SceneFaultFacts() {}

  /**
   * The least number, and why it is not less. A program of n solids, skips and combinations has at
   * most 3 n + 1 words: begin, solid and close for each, and the end. In the small executor 2 spans
   * are in a list, 3 lists on the stack, 64 words in memory and 12 operations under way, an
   * operation arrives 38 cycles after its dispatch, and nothing takes longer than a skip that is
   * decided again as it retires: 41 cycles to the next retirement, 57 in the other executor. Of
   * those that wait, the oldest and the next stand in registers and the others in the queue's
   * memory, by what operation_queue.sv says of itself; {@link QueueFactsTest} goes through all
   * programs for what that takes.
   */
  record Least(int operations, String why) {}

  private static final Map<String, Least> LEAST =
      Map.ofEntries(
          entry("word-not-loaded", new Least(21, "word 62 has to be there: 63 words")),
          entry(
              "half-of-the-words",
              new Least(
                  13,
                  "at retire_taken, a skip has to stand 32 words behind another: 2 skips, and 31"
                      + " words between them")),
          entry(
              "nearest-stops",
              new Least(
                  4,
                  "a result before the operation that is due: none is while the 13th waits for"
                      + " room, so that the second surface is that of the 12th word: 4 objects")),
          entry("room-wraps", new Least(4, "a 13th operation does not wait")),
          entry("room-one-less", new Least(4, "12 operations under way: 12 words")),
          entry(
              "word-changes-while-it-waits",
              new Least(
                  6,
                  "at retire_taken, a skip has to wait as the 13th operation, and another stands"
                      + " behind it: 2 skips, and 12 words before them")),
          entry("address-changes-while-it-waits", new Least(4, "a 13th operation has to wait")),
          entry(
              "room-lost-by-a-flush",
              new Least(
                  4,
                  "those lost and those dispatched again have to be more than 12; of 8 words, the"
                      + " most with a surface and a hidden box, they are 4 and 4")),
          entry("depth-one-less", new Least(5, "3 lists: 3 solids, 2 combinations")),
          entry("overflow-not-sticky", new Least(5, "3 spans: 3 solids, 2 combinations")),
          entry("overflow-not-cleared", new Least(5, "3 spans: 3 solids, 2 combinations")),
          entry("result-again-after-overflow", new Least(5, "3 spans: 3 solids, 2 combinations")),
          entry(
              "waiting-of-two-bits",
              new Least(5, "4 entries have to be in the queue's memory at a time")),
          entry(
              "entry-changes-while-it-waits",
              new Least(
                  4,
                  "an entry from the queue's memory has to stand behind an oldest that keeps it"
                      + " waiting, and another in the memory behind it")),
          entry(
              "stop-ignored",
              new Least(
                  5,
                  "the surface is found in cycle 43; four have their end dispatched by 41: a"
                      + " surface and three skips predicted wrongly, or 13 words")),
          entry(
              "index-fails-to-wrap",
              new Least(9, "13 entries have to be put into the queue's memory")),
          entry(
              "write-index-runs-on",
              new Least(9, "13 entries have to be put into the queue's memory")),
          entry(
              "read-index-wraps-early",
              new Least(
                  10,
                  "12 entries have to be put into the queue's memory; for retire_valid to be"
                      + " missing, the first, which comes again, has to take longer than the"
                      + " 12th")),
          entry("right-predictions-wrap", new Least(4, "4 right predictions: 4 skips")),
          entry("wrong-predictions-of-five-bits", new Least(32, "32 wrong ones: 32 skips")),
          entry("cycles-wrap", new Least(7, "256 cycles: 45 with a surface, and 6 times 41")),
          entry("cycles-of-ten-bits", new Least(18, "1,024 cycles: 61 and 17 times 57")),
          entry("cycles-of-twelve-bits", new Least(72, "4,096 cycles: 61 and 71 times 57")),
          entry("cycles-of-fifteen-bits", new Least(575, "32,768 cycles: 61 and 574 times 57")),
          entry("operations-of-nine-bits", new Least(171, "512 operations: 512 words")));

  private static final Map<String, Set<LikelyKind>> RIGHT =
      Map.ofEntries(
          entry("predictor-never-forgets", Set.of(DECISION)),
          entry("predictor-updated-twice", Set.of(CONSTANT)),
          entry("predictor-wraps", Set.of(OVERFLOW)),
          entry("end-not-counted", Set.of(CONSTANT, DECISION)),
          entry("cycles-from-zero", Set.of(CONSTANT)),
          entry("wrong-counter-stuck", Set.of(DECISION)),
          entry("right-counter-not-cleared", Set.of(LEFT_OVER)),
          entry("inward-and-outward-swapped", Set.of(EXCHANGED, DECISION)),
          entry("empty-solid-not-pushed", Set.of(ORDER, DECISION)),
          entry("stop-ignored", Set.of(DECISION, LEFT_OVER)),
          entry("word-not-loaded", Set.of(CAPACITY, INITIAL_STATE)),
          entry("result-again-after-overflow", Set.of(TIMING, ORDER)),
          entry("retires-as-it-begins-to-combine", Set.of(TIMING, ORDER)),
          entry("room-lost-by-a-flush", Set.of(CAPACITY, LEFT_OVER)),
          entry("room-one-less", Set.of(CAPACITY)));

  /** The name that the catalogue gives it within its unit. */
  private static String name(Fault fault) {
    return fault.name().replaceFirst("^scene-executor-", "");
  }

  static Least least(Fault fault) {
    return LEAST.getOrDefault(name(fault), new Least(0, ""));
  }

  /** Of a fault by the name that the catalogue gives it within its unit. */
  static int least(String name) {
    return LEAST.get(name).operations();
  }

  static Set<LikelyKind> right(Fault fault) {
    Set<LikelyKind> byName = RIGHT.get(name(fault));
    if (byName != null) {
      return byName;
    }
    return switch (fault.kind()) {
      case ROUNDING -> Set.of(ROUNDING);
      case SATURATION -> Set.of(OVERFLOW);
      case WIDTH -> Set.of(WIDTH, CAPACITY, OVERFLOW);
      case SIGN -> Set.of(SIGN);
      case LATENCY -> Set.of(TIMING, NEIGHBOUR, GAP);
      case OPERAND -> Set.of(EXCHANGED, CONSTANT);
      case ORDER -> Set.of(ORDER);
      case DECISION -> Set.of(DECISION);
      case MEMORY -> Set.of(CAPACITY, ORDER);
      case RESET -> Set.of(RESET, INITIAL_STATE, LEFT_OVER);
      case STALL -> Set.of(STALL);
      case COUNTER -> Set.of(WIDTH);
      case PARAMETER -> Set.of();
    };
  }
}
