package dev.plumbline.lockstep;

import dev.plumbline.drive.ResetGaps;
import dev.plumbline.drive.Segment;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.stimulus.RandomStream;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * A program with its rays, and when what is driven: rows from the block's start. Rows are laid out
 * as the model expects the DUT to go; what it does then is not taken from there.
 */
final class Block {
  /** The most rays of a block. */
  static final int RAYS = 16;

  /** Rows after the last one that something is expected in. */
  private static final int AFTER = 4;

  /** One reset in so many comes in the midst of a ray, where that is possible. */
  private static final int CUTTING = 3;

  /** The last ray of one block in so many is aborted, where that is possible. */
  private static final int ABORTING = 12;

  private static final int NEVER = -1;

  private final RandomStream chance;
  private final RandomStream tags;
  private final Pacing.Pattern offering;
  private final Pacing.Pattern taking;
  private final ResetGaps gaps;
  private final boolean mayAbort;
  private final Ports ports;
  final Rays rays;
  Program program;
  int count;
  long firstCase; // of the run
  long firstRow; // of the segment
  int callRay; // the ray that is case 0 of the call at hand
  int resetFrom;
  int resetRows;
  int loadFrom;
  int loadRows;
  boolean lastIsCut;
  boolean cutsByAbort;

  private boolean hasConstructed; // since the segment began, as the next
  private boolean hasAborted;
  int cutAt;
  int rows;
  private final int[] offers = new int[RAYS];
  private final int[] pauses = new int[RAYS]; // cycles without an offer before each ray
  private final int[] stalls = new int[RAYS]; // cycles that each result is planned to wait
  private SceneScript.Part part; // null for chance
  private final long[] willing = new long[1];
  private long nextReset; // row of the segment
  private long[] ready = new long[0];
  private int planned; // rows of it
  private boolean wasConstructed; // the block before

  Block(SceneFormats formats, Ports ports, Segment segment, Driving driving) {
    this.rays = Rays.of(formats, RAYS);
    this.ports = ports;
    this.chance = RandomStream.of(segment.seedOf(Segment.Use.CASES));
    this.tags = RandomStream.of(RandomStream.derive(segment.seedOf(Segment.Use.CASES), "tags"));
    this.offering = driving.pacing().open(segment.seedOf(Segment.Use.OFFERS));
    this.taking = driving.ready().open(segment.seedOf(Segment.Use.READY));
    double resets = segment.hasResets() ? driving.resetChance() : 0;
    this.mayAbort = resets > 0;
    this.gaps = new ResetGaps(resets, RandomStream.of(segment.seedOf(Segment.Use.RESETS)));
    this.nextReset = gaps.next();
  }

  /** Takes a part of a script for a block; it has at most {@link #RAYS} rays. */
  void take(SceneScript.Part given) {
    part = given;
    planned = 0;
    program = given.program();
    count = given.rays().size();
    for (int ray = 0; ray < count; ray++) {
      int column = 0;
      for (String name : Rays.names()) {
        rays.column(name)[ray] = given.rays().get(ray).codes()[column++];
      }
    }
    lastIsCut = given.cut() != SceneScript.NO_CUT && !given.rays().isEmpty();
    cutsByAbort = lastIsCut && given.aborts() && ports.has(Ports.ABORT);
    resetFrom = 0;
    resetRows = ports.has("rst") ? given.resets() : 0;
    loadFrom = resetRows;
    loadRows = given.loads() ? program.length() : 0;
  }

  /** The block as a part of a script; it has to be laid out. */
  SceneScript.Part part() {
    List<SceneScript.Ray> taken = new ArrayList<>();
    for (int ray = 0; ray < count; ray++) {
      taken.add(new SceneScript.Ray(pauses[ray], stalls[ray], codes(ray)));
    }
    int cut = lastIsCut ? cutAfter() : SceneScript.NO_CUT;
    return new SceneScript.Part(resetRows, loadRows > 0, program, taken, cut, cutsByAbort);
  }

  /**
   * Some of its rays as a part by themselves, without a pause, behind a reset where there is one.
   */
  SceneScript.Part part(int first, int some, boolean resets) {
    List<SceneScript.Ray> taken = new ArrayList<>();
    for (int ray = first; ray < first + some; ray++) {
      taken.add(new SceneScript.Ray(0, 0, codes(ray)));
    }
    return new SceneScript.Part(resets ? 1 : 0, true, program, taken, SceneScript.NO_CUT);
  }

  private long[] codes(int ray) {
    return Rays.names().stream().mapToLong(name -> rays.column(name)[ray]).toArray();
  }

  /** Draws a block: another program, or that of the block before, which the memory still holds. */
  void draw(SceneSource scenes, int most) {
    planned = 0;
    boolean first = program == null;
    Program before = program;
    int constructed = scenes.constructed(firstCase);
    if (first || constructed > 0 || wasConstructed || chance.below(16) > 0) {
      program = scenes.next();
    }
    wasConstructed = constructed > 0;
    boolean loads = !program.equals(before);
    int wanted = program.length() > 256 ? 2 : 1 + chance.below(RAYS - 1);
    count = Math.min(most, constructed > 0 ? constructed : wanted);
    scenes.rays(rays, count, firstCase);
    if (!ports.has("ray_start")) {
      Arrays.fill(rays.column("start"), 0);
    }
    if (!ports.takesAnyHit()) {
      Arrays.fill(rays.column("any_hit"), 0);
    }
    if (!ports.has("ray_limit")) {
      Arrays.fill(rays.column("limit"), rays.formats().word().maxCode().longValueExact());
    }
    long mask = ports.tagMask();
    for (int ray = 0; ray < count; ray++) {
      boolean isAgain = ray % 4 == 3;
      rays.column("tag")[ray] = isAgain ? rays.column("tag")[ray - 1] : tags.next() & mask;
    }
    boolean canReset = ports.has("rst");
    boolean again = canReset && firstRow >= nextReset;
    if (again) {
      nextReset = firstRow + gaps.next();
    }
    lastIsCut = again && !first && scenes.mayDrop() && count > 1 && chance.below(CUTTING) == 0;
    cutsByAbort =
        ports.has(Ports.ABORT)
            && mayAbort
            && !lastIsCut
            && scenes.mayDrop()
            && count > 1
            && (chance.below(ABORTING) == 0 || (hasConstructed && !hasAborted));
    hasConstructed |= constructed > 0;
    hasAborted |= cutsByAbort;
    lastIsCut |= cutsByAbort;
    resetFrom = 0;
    resetRows =
        canReset && (first || (again && (!lastIsCut || cutsByAbort))) ? 1 + chance.below(3) : 0;
    loadFrom = resetRows;
    loadRows = loads ? program.length() : 0;
  }

  boolean resets() {
    return resetRows > 0;
  }

  /** Lays out the rows by what the model expects. */
  void plan(Expectation expected, boolean cyclesKnown) {
    int at = loadFrom + loadRows;
    cutAt = NEVER;
    for (int ray = 0; ray < count; ray++) {
      int from = at;
      at = part == null ? offered(at) : at + part.rays().get(ray).pause();
      pauses[ray] = at - from;
      offers[ray] = at;
      long takes =
          cyclesKnown
              ? expected.cycles(ray)
              : 4L * (expected.past(ray) - expected.first(ray)) + 100;
      if (lastIsCut && ray == count - 1) {
        cutAt = at + (part == null ? 1 + chance.below((int) takes + 3) : part.cut());
        while (cutsByAbort && expected.retiresSkip(ray, cutAt - at)) {
          cutAt++; // whether the predictor learns of it is nobody's promise
        }
        at = cutAt + 1;
      } else if (part == null) {
        int standing = at + (int) takes;
        at = taken(standing);
        stalls[ray] = cyclesKnown ? at - 1 - standing : 0;
      } else {
        stalls[ray] = part.rays().get(ray).stall();
        at = stalled(at + (cyclesKnown ? (int) takes : 1), stalls[ray]);
        at += cyclesKnown ? 0 : (int) takes;
      }
    }
    rows = at + AFTER;
    ensureReady(rows);
  }

  /** The first row from one on in which a ray is offered. */
  private int offered(int from) {
    int at = from;
    offering.fill(willing, 0, 1);
    while (willing[0] == 0) {
      at++;
      offering.fill(willing, 0, 1);
    }
    return at;
  }

  /** The row behind the one in which a result that stands from a row on is taken. */
  private int taken(int from) {
    int at = from;
    ensureReady(at + 1);
    while (ready[at] == 0) {
      at++;
      ensureReady(at + 1);
    }
    return at + 1;
  }

  /** The row behind the one in which a result is taken that waits so long. */
  private int stalled(int from, int cycles) {
    ensureReady(from + cycles + 1);
    if (ports.has("result_ready")) {
      Arrays.fill(ready, from, from + cycles, 0);
    }
    return from + cycles + 1;
  }

  /** Cycles from the last ray's offer to what cuts it short. */
  int cutAfter() {
    return cutAt - offers[count - 1];
  }

  private void ensureReady(int to) {
    if (to > ready.length) {
      ready = Arrays.copyOf(ready, Math.max(1024, 2 * to));
    }
    if (to > planned) {
      if (part == null && ports.has("result_ready")) {
        taking.fill(ready, planned, to);
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
      if (cutAt != NEVER && !cutsByAbort) {
        mark(to.reset, cutAt - from, length);
      }
    }
    if (to.abort != null) {
      Arrays.fill(to.abort, 0, length, 0);
      if (cutsByAbort) {
        mark(to.abort, cutAt - from, length);
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
