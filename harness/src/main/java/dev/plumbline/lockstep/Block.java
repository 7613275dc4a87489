package dev.plumbline.lockstep;

import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.stimulus.RandomStream;
import java.util.Arrays;

/**
 * A program with its rays, and when what is driven: rows from the block's start. Rows are laid out
 * as the model expects the DUT to go; what it does then is not taken from there.
 */
final class Block {
  /** The most rays of a block. */
  static final int RAYS = 16;

  /** Rows after the last one that something is expected in. */
  private static final int AFTER = 4;

  private static final int NEVER = -1;

  private final RandomStream chance;
  private final Pacing.Pattern stalls;
  private final Ports ports;
  final Rays rays;
  Program program;
  int count;
  long firstCase; // of the run
  long firstRow; // of the segment
  long callRow; // the first row of the call at hand
  int callRows;
  int resetFrom;
  int resetRows;
  int loadFrom;
  int loadRows;
  boolean lastIsCut;
  int cutAt;
  int rows;
  private final int[] offers = new int[RAYS];
  private long[] ready = new long[0];
  private int planned; // rows of it

  Block(SceneFormats formats, RandomStream chance, Pacing.Pattern stalls, Ports ports) {
    this.rays = Rays.of(formats, RAYS);
    this.ports = ports;
    this.chance = chance;
    this.stalls = stalls;
  }

  /** Draws a block: another program, or that of the block before, which the memory still holds. */
  void draw(SceneSource scenes, int most) {
    planned = 0;
    boolean first = program == null;
    Program before = program;
    if (first || chance.below(16) > 0) {
      program = scenes.next();
    }
    boolean loads = !program.equals(before);
    count = Math.min(most, program.length() > 256 ? 2 : 1 + chance.below(RAYS - 1));
    scenes.rays(rays, count, firstCase);
    if (!ports.has("ray_start")) {
      Arrays.fill(rays.column("start"), 0);
    }
    if (!ports.takesAnyHit()) {
      Arrays.fill(rays.column("any_hit"), 0);
    }
    boolean canReset = ports.has("rst");
    resetFrom = 0;
    resetRows = canReset && (first || chance.below(12) == 0) ? 1 + chance.below(3) : 0;
    loadFrom = resetRows;
    loadRows = loads ? program.length() : 0;
    lastIsCut = canReset && scenes.mayDrop() && count > 1 && chance.below(24) == 0;
  }

  boolean resets() {
    return resetRows > 0;
  }

  /** Lays out the rows by what the model said. */
  void plan(Expectation expected, boolean cyclesKnown, boolean canStall) {
    boolean backToBack = chance.below(2) == 0;
    boolean stalled = canStall && chance.below(2) == 0;
    int at = loadFrom + loadRows;
    cutAt = NEVER;
    for (int ray = 0; ray < count; ray++) {
      at += backToBack ? 0 : chance.below(1 << chance.below(6));
      offers[ray] = at;
      long takes =
          cyclesKnown
              ? expected.cycles(ray)
              : 4L * (expected.past(ray) - expected.first(ray)) + 100;
      if (lastIsCut && ray == count - 1) {
        cutAt = at + 1 + chance.below((int) takes + 3);
        at = cutAt + 1;
      } else {
        at = taken(at + (int) takes, stalled);
      }
    }
    rows = at + AFTER;
    ensureReady(rows, stalled);
  }

  /** The row behind the one in which a result that stands from a row on is taken. */
  private int taken(int from, boolean stalled) {
    int at = from;
    ensureReady(at + 1, stalled);
    while (ready[at] == 0) {
      at++;
      ensureReady(at + 1, stalled);
    }
    return at + 1;
  }

  private void ensureReady(int to, boolean stalled) {
    if (to > ready.length) {
      ready = Arrays.copyOf(ready, Math.max(1024, 2 * to));
    }
    if (to > planned) {
      if (stalled) {
        stalls.fill(ready, planned, to);
      } else {
        Arrays.fill(ready, planned, to, 1);
      }
      planned = to;
    }
  }

  /**
   * Fills the by-row columns of some rows, counted from the block's start. Beyond the plan rays are
   * offered and results taken in every row.
   */
  void fill(ExecutorColumns to, int from, int length) {
    Arrays.fill(to.rayValid, 0, length, 0);
    Arrays.fill(to.loadValid, 0, length, 0);
    if (to.reset != null) {
      Arrays.fill(to.reset, 0, length, 0);
      for (int i = 0; i < resetRows; i++) {
        mark(to.reset, resetFrom + i - from, length);
      }
      if (cutAt != NEVER) {
        mark(to.reset, cutAt - from, length);
      }
    }
    for (int i = Math.max(0, from - loadFrom); i < loadRows && loadFrom + i < from + length; i++) {
      to.load(loadFrom + i - from, i);
    }
    for (int ray = 0; ray < count; ray++) {
      mark(to.rayValid, offers[ray] - from, length);
    }
    int there = Math.max(0, Math.min(length, rows - from));
    Arrays.fill(to.rayValid, there, length, 1);
    if (to.resultReady != null) {
      System.arraycopy(ready, Math.min(from, rows), to.resultReady, 0, there);
      Arrays.fill(to.resultReady, there, length, 1);
    }
  }

  private static void mark(long[] column, int row, int length) {
    if (row >= 0 && row < length) {
      column[row] = 1;
    }
  }
}
