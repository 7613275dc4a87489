package dev.plumbline.lockstep;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.lockstep.Quantity.Delays;
import dev.plumbline.lockstep.Quantity.Flow;
import dev.plumbline.lockstep.QuantityMatch.By;
import dev.plumbline.rtl.Signal;
import dev.plumbline.rtl.SourceLocation;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
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
  private final Set<Integer> given = new HashSet<>();

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
    return new FirstDifference(slices, sources, given, found).find(matches, quantities.all());
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

  /** It goes with the quantity for long by chance, and so does a wire behind it. */
  @Test
  void aPortThatIsDrivenIsNeverWrong() {
    long[] level = any(WIDTH);
    quantity(Flow.RAY, "level", WIDTH, level);
    signal("in_level", WIDTH, false, later(level, 0, WRONG));
    signal("level_too", WIDTH, false, later(level, 0, WRONG));
    assertEquals("top.in_level", name(first(Map.of()).orElseThrow()));
    given.add(0);
    assertTrue(first(Map.of()).isEmpty());
    signal("level_q", WIDTH, true, later(level, 1, WRONG + 1));
    assertEquals("top.level_q", name(first(Map.of()).orElseThrow()));
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
            matches.compared(quantity, 0, 0, WIDTH, 0, By.CHANGE),
            matches.compared(quantity, 1, 0, WIDTH, 1, By.CHANGE));
    FirstDifference first = new FirstDifference(slices, Map.of(), given, found);
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
    CopiedFrom.Place origin =
        new CopiedFrom(slices(), Optional.empty(), sources, List.of()).origin(0, WRONG);
    assertEquals(new CopiedFrom.Place(1, 0, WIDTH, WRONG - 1), origin);
  }

  /** Two stages that take over, of which the one behind is as it should be for whatever else. */
  @Test
  void whatComesACycleEarlyIsNotFollowedPastWhereItFellOutOfStep() {
    long[] made = any(2 * WIDTH);
    signal("shown", 2 * WIDTH, false, later(made, 2, ROWS));
    signal("joined_q", 2 * WIDTH, true, later(made, 2, ROWS));
    signal("kept_q", 2 * WIDTH, true, later(made, 1, ROWS));
    signal("made", 2 * WIDTH, false, made);
    Map<String, List<String>> sources =
        Map.of(
            "top.shown", List.of("top.joined_q"),
            "top.joined_q", List.of("top.kept_q"),
            "top.kept_q", List.of("top.made"));
    Delays along = new Delays(0, 9);
    Quantity others = new Quantity(Flow.FLIGHT, "of another kind", 2 * WIDTH, along, "", 0);
    List<QuantityMatch> right =
        List.of(
            new QuantityMatch(others, 0, 0, 2 * WIDTH, 2, -1, 9, By.PROMISE),
            new QuantityMatch(others, 1, 0, 2 * WIDTH, 2, -1, 9, By.PROMISE));
    CopiedFrom copied = new CopiedFrom(slices(), Optional.empty(), sources, right);

    Quantity due = new Quantity(Flow.FLIGHT, "shown", 2 * WIDTH, along, "", 0);
    QuantityMatch wrong = new QuantityMatch(due, 0, 0, 2 * WIDTH, 2, WRONG, 9, By.PROMISE);
    due.set(WRONG - 2, made[WRONG - 3]); // what was shown a cycle before
    assertEquals(new CopiedFrom.Place(2, 0, 2 * WIDTH, WRONG - 1), copied.origin(wrong));
    due.set(WRONG - 3, made[WRONG - 3]); // and was due then as well: it was to stand
    assertEquals(new CopiedFrom.Place(3, 0, 2 * WIDTH, WRONG - 2), copied.origin(wrong));
    due.undefine(WRONG - 3);
    due.set(WRONG - 2, made[WRONG - 2] ^ 1); // it is another value
    assertEquals(new CopiedFrom.Place(3, 0, 2 * WIDTH, WRONG - 2), copied.origin(wrong));
  }

  /** Told by how it goes elsewhere, since here it takes the other one in the last row only. */
  @Test
  void whatAMultiplexerTookIsWhereABitHasComeFrom() {
    long[] kept = new long[ROWS];
    long[] selects = new long[ROWS];
    long[] met = any(1);
    selects[WRONG] = 1;
    met[WRONG] = 1;
    chosen(selects, met, kept);
    SignalSlices here = slices();
    columns.clear();
    signals.clear();
    chosen(any(1), any(1), any(1));
    SignalSlices elsewhere = slices();
    Map<String, List<String>> sources =
        Map.of("top.shown", List.of("top.selects", "top.met_q", "top.kept_q"));
    Quantity selecting = quantity(Flow.RETIREMENT, "a nearer one", 1, selects);
    QuantityMatch known = new QuantityMatch(selecting, 1, 0, 1, 0, -1, 9, By.PROMISE);
    Quantity due = quantity(Flow.RETIREMENT, "shown", 1, new long[ROWS]);
    QuantityMatch wrong = new QuantityMatch(due, 0, 0, 1, 0, WRONG, 9, By.PROMISE);

    Optional<SignalSlices> other = Optional.of(elsewhere);
    assertEquals(2, new CopiedFrom(here, other, sources, List.of(known)).origin(wrong).g());
    // What selects may be wrong itself; or the one that it takes is right.
    assertEquals(0, new CopiedFrom(here, other, sources, List.of()).origin(wrong).g());
    QuantityMatch right = new QuantityMatch(due, 2, 0, 1, 0, -1, 9, By.PROMISE);
    assertEquals(0, new CopiedFrom(here, other, sources, List.of(known, right)).origin(wrong).g());
    // Here alone nothing tells that it is a multiplexer.
    CopiedFrom alone = new CopiedFrom(here, Optional.empty(), sources, List.of(known));
    assertEquals(0, alone.origin(wrong).g());
  }

  private void chosen(long[] selects, long[] one, long[] other) {
    long[] shown = new long[ROWS];
    Arrays.setAll(shown, row -> selects[row] == 1 ? one[row] : other[row]);
    signal("shown", 1, false, shown);
    signal("selects", 1, false, selects);
    signal("met_q", 1, true, one);
    signal("kept_q", 1, true, other);
  }

  @Test
  void signalsThatPartInAnotherWindowAreNotAlike() {
    long[] bit = any(1);
    signal("valid_d", 1, false, bit);
    signal("reading_d", 1, false, bit.clone());
    signal("valid_too", 1, false, bit.clone());
    SignalSlices slices = slices();
    assertEquals(List.of(0, 1, 2), slices.alike(0));
    columns.set(1, later(bit, 0, WRONG));
    slices.apartAsIn(slices());
    assertEquals(List.of(0, 2), slices.alike(0));
    assertEquals(List.of(1), slices.alike(slices.firstAlike(1)));
    assertEquals(0, slices.firstAlike(2));
  }

  /** The change is all that is wrong; so it would have to make the quantity what the signal has. */
  @Test
  void whatDepartsWhereAChangeSaysNothingElseIsNotTheQuantity() {
    long[] level = any(WIDTH);
    Quantity promised = quantity(Flow.QUEUE, "level", WIDTH, level);
    signal("level_q", WIDTH, true, later(level, 1, WRONG));
    QuantityMatches matches = new QuantityMatches(slices());
    Quantities otherwise = new Quantities(0);
    Quantity changed = otherwise.of(Flow.QUEUE, "level", WIDTH);
    for (int row = 0; row < ROWS; row++) {
      changed.set(row, level[row]);
    }
    assertEquals(List.of(), matches.of(promised, Optional.of(changed)));
    changed.set(WRONG - 1, level[WRONG - 1] ^ 2);
    assertEquals(matches.of(promised), matches.of(promised, Optional.of(changed)));
    changed.undefine(WRONG - 1);
    assertEquals(matches.of(promised), matches.of(promised, Optional.of(changed)));
    assertEquals(1, matches.of(promised, Optional.empty()).size());
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
    CopiedFrom copied = new CopiedFrom(slices(), Optional.empty(), sources, List.of());
    assertEquals(new CopiedFrom.Place(1, 0, WIDTH, WRONG), copied.origin(0, WRONG));
    Quantity shown = new Quantity(Flow.QUEUE, "level", WIDTH, Quantities.NEAR, "level", 0);
    shown.set(WRONG, 0);
    QuantityMatch port = new QuantityMatch(shown, 0, 0, WIDTH, 0, WRONG, 9, By.PORT);
    assertEquals(new CopiedFrom.Place(3, WIDTH, WIDTH, WRONG - 1), copied.origin(port));
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
