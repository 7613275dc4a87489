package dev.plumbline.lockstep;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.lockstep.Quantity.Flow;
import dev.plumbline.rtl.Signal;
import dev.plumbline.rtl.SourceLocation;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** Signals that have quantities, and which of them is wrong first. */
class FirstDifferenceTest {
  private static final int ROWS = 400;
  private static final int WRONG = 300;
  private static final int WIDTH = 8;

  private final Random random = new Random(1);
  private final List<Signal> signals = new ArrayList<>();
  private final List<long[]> columns = new ArrayList<>();
  private final Quantities quantities = new Quantities(0);

  private long[] any(int bits) {
    long[] values = new long[ROWS];
    for (int row = 0; row < ROWS; row++) {
      values[row] = random.nextLong() & ((1L << bits) - 1);
    }
    return values;
  }

  private Quantity quantity(Flow flow, String name, int bits, long[] values) {
    Quantity quantity = quantities.of(flow, name, bits);
    for (int row = 0; row < ROWS; row++) {
      quantity.set(row, values[row]);
    }
    return quantity;
  }

  private void signal(String name, int width, boolean register, long[] values) {
    signals.add(
        new Signal(
            "top." + name,
            "top",
            width,
            false,
            List.of(),
            register,
            new SourceLocation("top.sv", signals.size() + 1, 1)));
    columns.add(values);
  }

  private SignalSlices slices() {
    return new SignalSlices(signals, signals.stream().map(Signal::path).toList(), columns, ROWS);
  }

  /** The same some rows later, with a bit turned from a row on. */
  private static long[] later(long[] values, int rows, int wrongFrom) {
    long[] later = new long[ROWS];
    for (int row = rows; row < ROWS; row++) {
      later[row] = values[row - rows] ^ (row >= wrongFrom ? 1 : 0);
    }
    return later;
  }

  private Optional<QuantityMatch> first(Map<String, List<String>> sources) {
    SignalSlices slices = slices();
    QuantityMatches matches = new QuantityMatches(slices);
    List<QuantityMatch> found = new ArrayList<>();
    quantities.all().forEach(quantity -> found.addAll(matches.of(quantity)));
    return new FirstDifference(slices, sources, found).find(matches, quantities.all());
  }

  private String name(QuantityMatch match) {
    return signals.get(match.g()).path();
  }

  @Test
  void bitsInsideOfASignalAreFoundInTheirCycle() {
    long[] level = any(WIDTH);
    Quantity quantity = quantity(Flow.QUEUE, "level", WIDTH, level);
    long[] packed = later(level, 2, ROWS);
    for (int row = 0; row < ROWS; row++) {
      packed[row] = packed[row] << 5 | random.nextInt(32);
    }
    signal("packed_q", WIDTH + 5, true, packed);
    List<QuantityMatch> found = new QuantityMatches(slices()).of(quantity);
    assertEquals(1, found.size());
    assertEquals(5, found.get(0).offset());
    assertEquals(2, found.get(0).delay());
    assertTrue(found.get(0).isRight());
  }

  @Test
  void whatHasOtherValuesIsNotTakenForIt() {
    Quantity quantity = quantity(Flow.QUEUE, "level", WIDTH, any(WIDTH));
    signal("other_q", WIDTH, true, any(WIDTH));
    assertEquals(List.of(), new QuantityMatches(slices()).of(quantity));
  }

  @Test
  void whereNothingDiffersNothingIsSaid() {
    long[] level = any(WIDTH);
    quantity(Flow.QUEUE, "level", WIDTH, level);
    signal("level_q", WIDTH, true, later(level, 1, ROWS));
    assertTrue(first(Map.of()).isEmpty());
  }

  @Test
  void theEarliestCycleCountsWhateverTheFlow() {
    long[] level = any(WIDTH);
    long[] height = any(WIDTH);
    quantity(Flow.FETCH, "level", WIDTH, level);
    quantity(Flow.STACK, "height", WIDTH, height);
    signal("level_q", WIDTH, true, later(level, 1, WRONG + 1));
    signal("height_q", WIDTH, true, later(height, 1, WRONG));
    assertEquals("top.height_q", name(first(Map.of()).orElseThrow()));
    assertEquals(WRONG, first(Map.of()).orElseThrow().differs());
  }

  @Test
  void inOneCycleTheOneThatDrivesTheOthersCounts() {
    long[] level = any(WIDTH);
    quantity(Flow.FETCH, "level", WIDTH, level);
    quantity(Flow.STACK, "height", WIDTH, level);
    signal("shown", WIDTH, false, later(level, 1, WRONG));
    signal("height_q", WIDTH, true, later(level, 1, WRONG));
    String first = name(first(Map.of("top.shown", List.of("top.height_q"))).orElseThrow());
    assertEquals("top.height_q", first);
  }

  /** At the end of the window a later one looks as if it were right for longer. */
  @Test
  void signalsOfAChangedModelAllCount() {
    long[] level = any(WIDTH);
    long[] changed = later(level, 0, ROWS - 1); // wrong in the last row
    Quantity quantity = quantity(Flow.QUEUE, "level", WIDTH, level);
    signal("level", WIDTH, false, changed);
    signal("level_q", WIDTH, true, later(changed, 1, ROWS));
    SignalSlices slices = slices();
    QuantityMatches matches = new QuantityMatches(slices);
    List<QuantityMatch> found =
        List.of(
            matches.compared(quantity, 0, 0, WIDTH, 0, QuantityMatch.By.CHANGE),
            matches.compared(quantity, 1, 0, WIDTH, 1, QuantityMatch.By.CHANGE));
    FirstDifference first = new FirstDifference(slices, Map.of(), found);
    assertEquals("top.level", name(first.find(matches, List.of()).orElseThrow()));
  }

  /** A bit that was wrong as soon as it changed, on the way to what is known. */
  @Test
  void whatIsOnTheWayAndSpeaksOfAQuantityIsTold() {
    long[] level = any(WIDTH);
    quantity(Flow.QUEUE, "level", WIDTH, level);
    signal("level_q", WIDTH, true, later(level, 1, WRONG));
    long[] foretold = new long[ROWS];
    long[] had = new long[ROWS];
    foretold[WRONG - 40] = 1;
    had[WRONG - 40] = 1;
    foretold[WRONG - 1] = 1;
    quantity(Flow.FETCH, "fetched predicted", 1, foretold);
    signal("predicted", 1, false, had);
    signal("other", 1, false, had.clone());
    Map<String, List<String>> sources =
        Map.of("top.level_q", List.of("top.predicted", "top.other"));
    assertEquals("top.predicted", name(first(sources).orElseThrow()));
    assertEquals("top.level_q", name(first(Map.of()).orElseThrow()));
  }

  /** What has been right for a few cycles may be anything. */
  @Test
  void whatWasNotRightForAWhileIsNotSuspected() {
    int soon = 40;
    long[] level = any(WIDTH);
    quantity(Flow.QUEUE, "level", WIDTH, level);
    signal("level_q", WIDTH, true, later(level, 1, soon));
    long[] foretold = new long[ROWS];
    foretold[soon - 1] = 1;
    quantity(Flow.FETCH, "fetched predicted", 1, foretold);
    signal("predicted", 1, false, new long[ROWS]);
    Map<String, List<String>> sources = Map.of("top.level_q", List.of("top.predicted"));
    assertEquals("top.level_q", name(first(sources).orElseThrow()));
  }

  @Test
  void whereAnotherSignalIsRightForLongerNoneIsSuspected() {
    long[] level = any(WIDTH);
    quantity(Flow.QUEUE, "level", WIDTH, level);
    signal("level_q", WIDTH, true, later(level, 1, WRONG));
    long[] foretold = new long[ROWS];
    foretold[WRONG - 40] = 1;
    long[] had = foretold.clone();
    foretold[WRONG - 1] = 1;
    quantity(Flow.FETCH, "fetched predicted", 1, foretold);
    signal("predicted", 1, false, had);
    signal("predicted_d", 1, false, foretold.clone());
    Map<String, List<String>> sources =
        Map.of("top.level_q", List.of("top.predicted", "top.predicted_d"));
    assertEquals("top.level_q", name(first(sources).orElseThrow()));
  }

  @Test
  void aWrongValueIsFollowedToWhereItArose() {
    long[] level = any(WIDTH);
    signal("level_q", WIDTH, true, later(level, 1, WRONG));
    signal("next", WIDTH, false, later(level, 0, WRONG - 1));
    signal("other", WIDTH, false, any(WIDTH));
    Map<String, List<String>> sources =
        Map.of("top.level_q", List.of("top.next", "top.other"), "top.next", List.of("top.other"));
    CopiedFrom.Place origin = new CopiedFrom(slices(), sources, List.of()).origin(0, WRONG);
    assertEquals(new CopiedFrom.Place(1, 0, WIDTH, WRONG - 1), origin);
  }

  /** A port that shows some bits of a register, which took all of them over from another signal. */
  @Test
  void aWrongValueIsFollowedFromAPortIntoWhatItShowsBitsOf() {
    long[] level = any(3 * WIDTH);
    signal("level", WIDTH, false, bits(level));
    signal("oldest_level", WIDTH, false, bits(level));
    signal("oldest_q", 3 * WIDTH, true, level);
    long[] entry = Arrays.copyOfRange(level, 1, ROWS + 1); // a row before
    signal("entry", 3 * WIDTH, false, entry);
    Map<String, List<String>> sources =
        Map.of(
            "top.level", List.of("top.oldest_level"),
            "top.oldest_level", List.of("top.oldest_q"),
            "top.oldest_q", List.of("top.entry"));
    CopiedFrom copied = new CopiedFrom(slices(), sources, List.of());
    assertEquals(new CopiedFrom.Place(1, 0, WIDTH, WRONG), copied.origin(0, WRONG));
    assertEquals(new CopiedFrom.Place(3, WIDTH, WIDTH, WRONG - 1), copied.behindPort(0, WRONG));
  }

  /** Those in the middle. */
  private static long[] bits(long[] wide) {
    return Arrays.stream(wide).map(value -> (value >> WIDTH) & ((1L << WIDTH) - 1)).toArray();
  }

  @Test
  void aQuantityIsDefinedWhereItWasSaid() {
    Quantity quantity = quantities.of(Flow.QUEUE, "level", 2);
    quantity.set(-1, 3); // before the window
    quantity.set(1, 5);
    quantity.set(2, 1);
    quantity.set(4, 2);
    quantity.set(5, 2);
    quantity.set(6, 3);
    quantity.undefine(6);
    assertEquals(1, quantity.value(1));
    assertTrue(!quantity.isDefined(0) && !quantity.isDefined(3) && !quantity.isDefined(6));
    assertEquals(List.of(1, 4), Arrays.stream(quantity.changes()).boxed().toList());
    assertEquals(2, quantity.definedBetween(1, 4));
  }
}
