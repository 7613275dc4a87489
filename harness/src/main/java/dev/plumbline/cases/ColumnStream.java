package dev.plumbline.cases;

import dev.plumbline.models.rows.RowCode;
import dev.plumbline.models.rows.RowProgram;
import dev.plumbline.models.rows.RowTier;
import dev.plumbline.stimulus.RandomStream;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.stream.Stream;

/**
 * Draws of whole numbers by chance, a column of {@value #ROWS} at a time, and what is made of them:
 * listed once, in order, and run for each block.
 *
 * <p>The rows of a block are parts of {@value #PART}, and the draws of a part come after all those
 * of the part before: what is drawn does not depend on how many parts are drawn at once, which are
 * as many as make up for what a step costs beside its rows.
 *
 * <p>A short loop without a branch or a call runs in vectors, which draws a number in a tenth of
 * the time that it takes alone, if the loop is compiled by itself: therefore the list. What happens
 * now and then is told by masks: -1 where it does and 0 where not.
 */
final class ColumnStream {
  static final int PART = 128;
  static final int ROWS = 2 * PART;

  private static final long TURN = draws(PART); // a whole column of a part

  private final List<Runnable> steps = new ArrayList<>();
  private final List<Consumer<RowCode>> told = new ArrayList<>(); // what each step does
  private final List<long[]> taken = new ArrayList<>(); // columns that somebody takes
  private final RowTier tier = new RowTier(this::program);
  private final long[] turns = column(); // from the state before the first row's draw
  private final long[] drawn = column();
  private long draws; // that the steps take for a row
  private long turned; // for how many draws a row the turns are
  private long state;

  ColumnStream(long seed) {
    state = seed;
  }

  /** Draws from now on as one that is made with another seed. */
  void restart(long seed) {
    state = seed;
  }

  /** Lists a step that cannot be told. */
  void then(Runnable step) {
    then(step, RowCode::cannotSay);
  }

  /** Lists a step that sets a column to what an expression of {@link RowCode} says. */
  void then(Runnable step, long[] out, String expression, Object... parts) {
    then(step, code -> code.set(out, expression, parts));
  }

  /** The same of doubles. */
  void then(Runnable step, double[] out, String expression, Object... parts) {
    then(step, code -> code.set(out, expression, parts));
  }

  /** Lists a step that is told in a way of its own. */
  void then(Runnable step, Consumer<RowCode> tells) {
    steps.add(step);
    told.add(tells);
  }

  /** Says that a column is taken of each block; where any is, no other can be. */
  long[] taken(long[] column) {
    taken.add(column);
    return column;
  }

  private Optional<RowProgram> program() {
    if (taken.isEmpty()) {
      return Optional.empty(); // any may be read
    }
    RowCode code = new RowCode(List.of());
    told.forEach(each -> each.accept(code));
    return code.program(taken);
  }

  /** Takes all steps, for the next block. */
  void run() {
    if (turned != draws) {
      turn();
    }
    if (tier.run(state, ROWS)) {
      state += draws * TURN;
    } else {
      for (int i = 0; i < steps.size(); i++) { // an iterator would be an object
        steps.get(i).run();
      }
    }
    state += (ROWS / PART - 1) * draws * TURN; // the first part has moved it
  }

  /**
   * Lists a step that draws a number a row, from {@link #take} on.
   *
   * @param expression what it makes of the bits, which are its {@code $0}
   */
  private void drawing(Runnable step, long[] out, String expression, Object... parts) {
    long before = draws++;
    Object[] all = Stream.concat(Stream.of(drawn), Stream.of(parts)).toArray();
    then(
        step,
        code -> {
          code.set(drawn, "srl(mixed(state + $0 + $1), 32)", turns, before * TURN);
          code.set(out, expression, all);
        });
  }

  /** The state before the first row's draw. */
  private long take() {
    long from = state;
    state += TURN;
    return from;
  }

  private void turn() {
    turned = draws;
    for (int i = 0; i < ROWS; i++) {
      turns[i] = draws(i / PART * draws * PART + i % PART + 1);
    }
  }

  /** What so many draws add to the state. */
  private static long draws(long count) {
    return count * RandomStream.STEP;
  }

  static long[] column() {
    return new long[ROWS];
  }

  private static long bits(long from, long[] steps, int row) {
    return RandomStream.mix(from + steps[row]) >>> 32;
  }

  /** From 0 on, below a bound of 31 bits at most. */
  void below(long bound, long[] out) {
    from(0, bound, out);
  }

  /** So many whole numbers from one on, 31 bits of them at most. */
  void from(long least, long count, long[] out) {
    int high = 63 - Long.numberOfLeadingZeros(count);
    int low = Long.numberOfTrailingZeros(count);
    if (count == 1L << high) {
      drawing(
          () -> shifted(take(), turns, least, high, out),
          out,
          "$1 + srl($0 << $2, 32)",
          least,
          high);
    } else if (count == (1L << high) + (1L << low)) {
      drawing(
          () -> shifted(take(), turns, least, high, low, out),
          out,
          "$1 + srl(($0 << $2) + ($0 << $3), 32)",
          least,
          high,
          low);
    } else {
      drawing(
          () -> from(take(), turns, least, count, out), out, "$1 + srl($0 * $2, 32)", least, count);
    }
  }

  private static void from(long state, long[] steps, long least, long count, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] = least + ((bits(state, steps, i) * count) >>> 32);
    }
  }

  // The same product where the count is one power of two, as most are, or the sum of two.

  private static void shifted(long state, long[] steps, long least, int high, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] = least + ((bits(state, steps, i) << high) >>> 32);
    }
  }

  private static void shifted(long state, long[] steps, long least, int high, int low, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      long bits = bits(state, steps, i);
      out[i] = least + (((bits << high) + (bits << low)) >>> 32);
    }
  }

  /** From a least code to a greatest, less than 2^31 apart. */
  void between(long[] least, long[] greatest, long[] out) {
    drawing(() -> bits(take(), turns, drawn), drawn, "$0");
    then(
        () -> between(drawn, least, greatest, out),
        out,
        "$1 + srl($0 * ($2 - $1 + 1), 32)",
        drawn,
        least,
        greatest);
  }

  // Loops much longer than this one, or any that draws, run in no vectors: hence the two steps.

  private static void between(long[] bits, long[] least, long[] greatest, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] = least[i] + ((bits[i] * (greatest[i] - least[i] + 1)) >>> 32);
    }
  }

  private static void bits(long state, long[] steps, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] = bits(state, steps, i);
    }
  }

  /** From -most to most. */
  void within(long most, long[] out) {
    from(-most, Math.min(Integer.MAX_VALUE - 1, 2 * most + 1), out);
  }

  /** From -most to most, each row by its own. */
  void within(long[] most, long[] out) {
    drawing(() -> bits(take(), turns, drawn), drawn, "$0");
    then(() -> within(drawn, most, out), out, "srl($0 * (2 * $1 + 1), 32) - $1", drawn, most);
  }

  private static void within(long[] bits, long[] most, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] = ((bits[i] * (2 * most[i] + 1)) >>> 32) - most[i];
    }
  }

  /** A mask of what happens once in so many times. */
  void oneIn(int times, long[] mask) {
    drawing(() -> oneIn(take(), turns, times, mask), mask, "sign($0 - $1)", first(times));
  }

  private static void oneIn(long state, long[] steps, long times, long[] mask) {
    long end = first(times);
    for (int i = 0; i < ROWS; i++) {
      mask[i] = (bits(state, steps, i) - end) >> 63;
    }
  }

  /** The same, where another mask lets it. */
  void oneIn(int times, long[] where, long[] mask) {
    drawing(
        () -> oneIn(take(), turns, times, where, mask),
        mask,
        "sign($0 - $1) & $2",
        first(times),
        where);
  }

  private static void oneIn(long state, long[] steps, long times, long[] where, long[] mask) {
    long end = first(times);
    for (int i = 0; i < ROWS; i++) {
      mask[i] = ((bits(state, steps, i) - end) >> 63) & where[i];
    }
  }

  /** The bits below which a number below so many is 0: a comparison in the place of a product. */
  private static long first(long times) {
    return ((1L << 32) + times - 1) / times;
  }

  /** 1 or -1. */
  void signs(long[] out) {
    drawing(() -> signs(take(), turns, out), out, "1 - 2 * srl($0, 31)");
  }

  private static void signs(long state, long[] steps, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] = 1 - 2 * (bits(state, steps, i) >>> 31);
    }
  }

  /** What one column has where a mask is set, else what another has. */
  void choose(long[] mask, long[] some, long[] other, long[] out) {
    then(() -> chosen(mask, some, other, out), out, "chosen($0, $1, $2)", mask, some, other);
  }

  private static void chosen(long[] mask, long[] some, long[] other, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] = other[i] ^ ((some[i] ^ other[i]) & mask[i]);
    }
  }

  /** A mask of where a code is that number. */
  void equal(long[] codes, long number, long[] mask) {
    then(() -> same(codes, number, mask), mask, "$0 == $1", codes, number);
  }

  private static void same(long[] codes, long number, long[] mask) {
    for (int i = 0; i < ROWS; i++) {
      long apart = codes[i] ^ number;
      mask[i] = ~((apart | -apart) >> 63);
    }
  }
}
