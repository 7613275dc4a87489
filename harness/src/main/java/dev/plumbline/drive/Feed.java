package dev.plumbline.drive;

import dev.plumbline.contract.Reference;
import dev.plumbline.contract.Reset;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.stimulus.RandomStream;
import java.math.BigInteger;
import java.util.Arrays;
import java.util.List;

/**
 * Feeds a segment to its engine, block by block: cases, bubbles, resets, the consumer's ready. The
 * cases of a block stand densely in the reference's evaluation, from where they are brought to the
 * engine's columns.
 *
 * <p>They are evaluated as they are drawn, ahead of the DUT. Where the reference has state they are
 * evaluated after the block was run instead, once it is known which were taken and where resets lay
 * between them.
 */
public abstract class Feed {
  /** Rows of a full block. */
  public static final int BLOCK = 1024;

  /** The most cases that wait in the columns of an engine, where they wait at all. */
  public static final int PLACES = 2 * BLOCK;

  /** Rows run after the last result, to see whether another comes. */
  public static final int TAIL = 8;

  public final Hookup to;
  public final Reference.Evaluation evaluation;
  public final long[] reset = new long[BLOCK];
  public final long[] quiet = new long[BLOCK]; // 1 where reset has to have silenced the DUT
  public final long[] offer = new long[BLOCK];
  public boolean anyReset;
  public int rows; // of the block just run
  public int cases; // new to the evaluation in the block just run
  public int results; // that they have
  private final boolean oneForEach; // result for a case
  private final boolean ahead;
  private boolean begins = true; // whether state begins anew before the next case evaluated

  final long[][][] dense; // operand, word: the evaluation's inputs
  private final Binding binding;
  private final Segment segment;
  private final RowContents choices;
  private final ClockRows clocks; // null where every row is a cycle
  private final boolean[] caseEdge; // by row: the clock of the cases rises; null as above
  private final boolean[] resultEdge; // by row: that of the results does
  private final long[][] resetLines; // where there are several resets
  private long readyHeld = 1; // of the row before
  private boolean readyAnew = true; // whether the row at hand begins a cycle of the results
  private final RandomStream noiseBits;
  private final int resetCycles;
  private long firstRow; // of the block at hand
  private int underReset; // cycles of reset before the row at hand
  private int left; // cases not yet drawn
  private int tail; // rows to run after the last case
  private boolean clocked; // whether edges of the block to be planned are filled

  Feed(FeedSetup setup) {
    this.binding = setup.binding();
    this.segment = setup.segment();
    this.to = new Hookup(setup.engine(), binding);
    this.evaluation = setup.evaluation();
    Settings settings = setup.settings();
    Reference reference = binding.contract().reference();
    this.oneForEach = reference.givesOneForEach();
    this.ahead = oneForEach && !reference.isStateful();
    List<Operand> operands = reference.inputs();
    this.dense = new long[operands.size()][][];
    for (int i = 0; i < dense.length; i++) {
      dense[i] = new long[binding.words(i)][];
      for (int word = 0; word < dense[i].length; word++) {
        dense[i][word] = evaluation.input(i, word);
      }
    }
    this.noiseBits = RandomStream.of(segment.seedOf(Segment.Use.BUBBLES));
    this.choices = RowContents.of(binding, settings, segment, noiseBits, setup.source());
    this.resetCycles = binding.rowsOf(binding.contract().reset().cycles());
    this.clocks = binding.timing() == null ? null : binding.timing().rows();
    this.caseEdge = clocks == null ? null : new boolean[BLOCK];
    this.resultEdge = clocks == null ? null : new boolean[BLOCK];
    int further = to.furtherResets.length;
    this.resetLines = new long[further == 0 ? 0 : further + 1][BLOCK];
    this.left = segment.cases();
    int silent = settings.script().map(script -> script.lines().size()).orElse(0);
    this.tail = binding.rowsOf(binding.contract().flow().mostLatency() + TAIL) + silent;
    binding.hold(setup.engine(), segment);
  }

  public Segment segment() {
    return segment;
  }

  public Binding binding() {
    return binding;
  }

  /**
   * Runs the next block.
   *
   * @param outstanding how many results are still to come
   * @return false, and nothing run, when the segment is over
   */
  public abstract boolean next(long outstanding);

  /** Whether a case was on offer in a row of the block just run. */
  public abstract boolean isOffered(int row);

  /** Whether the DUT took a case in a row of the block just run. */
  public abstract boolean isTaken(int row);

  /** Adds 1 to the bits of each row of the block just run in which the DUT took a case. */
  public abstract void markTaken(long[] rows);

  /** Where in their columns the inputs applied at a row stand; -1 where there are none. */
  public abstract int inputsAt(int row);

  /** Whether offers stand in those rows alone in which the clock of the cases rises. */
  boolean offersAtEdges() {
    return true;
  }

  /** Cases that were begun before the block just run and will never be taken. */
  public int givenUp() {
    return 0;
  }

  final int left() {
    return left;
  }

  /** Whether cases are evaluated as they are drawn, taken or not. */
  public final boolean isAhead() {
    return ahead;
  }

  /** Draws the next cases into the evaluation and has them evaluated. */
  final void draw(int count) {
    cases = count;
    left -= count;
    choices.cases(dense, count);
    if (isAhead()) {
      if (begins && count > 0) {
        evaluation.renewBefore(0);
        begins = false;
      }
      evaluate();
    }
  }

  /** Leaves the evaluation as it is: enough cases wait. */
  final void drawNone() {
    cases = 0;
    results = 0;
  }

  /** Has a reference with state evaluate what was taken in the block just run, in that order. */
  final void evaluateTaken() {
    if (isAhead()) {
      return;
    }
    cases = 0;
    for (int row = 0; row < rows; row++) {
      if (isTaken(row)) {
        if (begins) {
          evaluation.renewBefore(cases);
          begins = false;
        }
        takeAgain(inputsAt(row));
      }
      begins |= reset[row] != 0; // what is taken under reset is still of before
    }
    evaluate();
  }

  /** Takes the case at a place of the engine's columns back into the evaluation. */
  private void takeAgain(int place) {
    for (int i = 0; i < dense.length; i++) {
      for (int word = 0; word < dense[i].length; word++) {
        dense[i][word][cases] = to.inputs[i][word][place];
      }
    }
    cases++;
  }

  private void evaluate() {
    evaluation.run(cases);
    results = cases;
    for (int n = 0; !oneForEach && n < cases; n++) {
      results += evaluation.results(n) - 1;
    }
  }

  /** Whether the clock of the cases rises at a row of the block at hand. */
  public final boolean isCaseEdge(int row) {
    return caseEdge == null || caseEdge[row];
  }

  /** Whether the clock of the results rises at a row of the block just run. */
  public final boolean isResultEdge(int row) {
    return resultEdge == null || resultEdge[row];
  }

  /** Which of the clocks that evidence shows rise at a row; none where there is one clock. */
  public final List<BigInteger> clocksAt(int row) {
    if (clocks == null) {
      return List.of();
    }
    BigInteger cases = caseEdge[row] ? BigInteger.ONE : BigInteger.ZERO;
    BigInteger results = resultEdge[row] ? BigInteger.ONE : BigInteger.ZERO;
    return binding.timing().shown().size() == 1 ? List.of(cases) : List.of(cases, results);
  }

  /** Whether some rows belong to one clock and some to another. */
  public final boolean hasClocks() {
    return clocks != null;
  }

  /**
   * Rows of a block, up to some, such that the clock of the cases rises at its last; said before
   * {@link #plan}.
   */
  final int wholeCycles(int most) {
    if (clocks == null) {
      return most;
    }
    clocks.block(rows, most, caseEdge, resultEdge);
    clocked = true;
    int span = most;
    while (span > 1 && !caseEdge[span - 1]) {
      span--;
    }
    return span;
  }

  /** Plans resets, offers and the consumer's ready for some rows; returns how many offers. */
  final int plan(int span) {
    if (clocks != null && !clocked) {
      clocks.block(rows, span, caseEdge, resultEdge);
    }
    clocked = false;
    firstRow += rows; // of the block before
    anyReset = choices.reset(reset, resetLines, firstRow, span);
    fillQuiet(span);
    choices.offers(offer, firstRow, span);
    int count = 0;
    for (int row = 0; row < span; row++) {
      offer[row] &= ~reset[row];
      if (clocks != null && !caseEdge[row] && offersAtEdges()) {
        offer[row] = 0;
      }
      count += (int) offer[row];
    }
    driveResets(span);
    if (to.outReady != null) {
      choices.ready(to.outReady, firstRow, span);
      if (clocks != null) {
        holdReady(span);
      }
    }
    return count;
  }

  private void driveResets(int span) {
    Reset asked = binding.contract().reset();
    if (to.reset != null) {
      drive(to.reset, resetLines.length == 0 ? reset : resetLines[0], asked.activeLow(), span);
    }
    for (int line = 0; line < to.furtherResets.length; line++) {
      boolean activeLow = asked.further().get(line).activeLow();
      drive(to.furtherResets[line], resetLines[line + 1], activeLow, span);
    }
  }

  private static void drive(long[] column, long[] asserted, boolean activeLow, int span) {
    for (int row = 0; row < span; row++) {
      column[row] = activeLow ? 1 - asserted[row] : asserted[row];
    }
  }

  /** What the consumer does in the first row of a cycle holds until its clock has risen. */
  private void holdReady(int span) {
    for (int row = 0; row < span; row++) {
      to.outReady[row] = readyAnew ? to.outReady[row] : readyHeld;
      readyHeld = to.outReady[row];
      readyAnew = resultEdge[row];
    }
  }

  /** Has inputs stand in all rows of a cycle as in the one in which the clock of cases rises. */
  final void holdInputs() {
    if (clocks == null) {
      return;
    }
    for (int row = rows - 2; row >= 0; row--) {
      if (caseEdge[row]) {
        continue;
      }
      for (long[][] operand : to.inputs) {
        copyBack(operand, row);
      }
      copyBack(to.buses, row);
      copyBack(to.marks, row);
      if (to.inValid != null) {
        to.inValid[row] = to.inValid[row + 1];
      }
      if (to.beatAt != null) {
        to.beatAt[row] = to.beatAt[row + 1];
      }
    }
  }

  private static void copyBack(long[][] columns, int row) {
    for (long[] column : columns) {
      column[row] = column[row + 1];
    }
  }

  /**
   * Fills 1 where reset has been asserted for as long as the contract says, or longer, and still
   * is: there nothing may be valid any more.
   */
  private void fillQuiet(int span) {
    if (!anyReset && underReset == 0) {
      Arrays.fill(quiet, 0, span, 0);
      return;
    }
    for (int row = 0; row < span; row++) {
      quiet[row] = reset[row] != 0 && underReset >= resetCycles ? 1 : 0;
      underReset = reset[row] != 0 ? underReset + 1 : 0;
    }
  }

  /** Rows from here on, up to some, in which reset stays as it is. */
  final int steadyRows(int most) {
    return choices.steadyRows(firstRow + rows, most);
  }

  /**
   * Fills the buses of the first rows with noise that the DUT has to ignore; operands are put over
   * it where they have their beat.
   */
  final void busNoise(int count) {
    for (long[] bus : to.buses) {
      for (int row = 0; row < count; row++) {
        bus[row] = noiseBits.next();
      }
    }
  }

  /** Fills the operands of some rows of the block with noise that the DUT has to ignore. */
  final void noise(int[] idle, int count) {
    choices.bubbles(to.inputs, firstRow, idle, count, rows);
  }

  /** Draws valid at random under reset: what is offered there must not be taken. */
  final void noiseUnderReset(long[] valid, int count) {
    if (anyReset) {
      choices.validUnderReset(valid, reset, firstRow, count);
    }
  }

  /** Marks beats where some stand, by row or by place, and has marks at random where none do. */
  final void mark(int[] standing, int count) {
    for (int m = 0; m < to.marks.length; m++) {
      for (int n = 0; n < count; n++) {
        to.marks[m][n] =
            standing[n] < 0 ? noiseBits.next() & 1 : standing[n] == to.markedBeats[m] ? 1 : 0;
      }
    }
  }

  /**
   * How many of the rows planned are worth running once all cases are offered; 0 when the segment
   * is over.
   */
  final int drain(long outstanding, boolean fixed, int planned) {
    int limit = fixed || outstanding == 0 ? tail : planned;
    int run = Math.min(planned, limit);
    if (fixed || outstanding == 0) {
      tail -= run;
    }
    return run;
  }

  /** Spends rows of the tail that a block holds after its last case. */
  final int spendTail(int most) {
    int run = Math.min(tail, most);
    tail -= run;
    return run;
  }

  void withoutOffers() {
    Arrays.fill(offer, 0, BLOCK, 0);
  }

  /** Fills the words of all operands at a place of the input columns. */
  public final void gather(int place, long[] into) {
    int at = 0;
    for (long[][] operand : to.inputs) {
      for (long[] word : operand) {
        into[at++] = word[place];
      }
    }
  }

  /** Words of a case. */
  public final int wordsOfCase() {
    int count = 0;
    for (long[][] operand : to.inputs) {
      count += operand.length;
    }
    return count;
  }

  /** The words of all operands at a place of the input columns, one after the other. */
  public final long[] words(int place) {
    long[] words = new long[wordsOfCase()];
    gather(place, words);
    return words;
  }
}
