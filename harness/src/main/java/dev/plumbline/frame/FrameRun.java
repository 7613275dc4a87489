package dev.plumbline.frame;

import dev.plumbline.cosim.Batch;
import dev.plumbline.cosim.Dut;
import dev.plumbline.models.picture.Picture;
import dev.plumbline.stimulus.Pacing;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * Runs a DUT until its frame is complete, and keeps what came out. Colours are judged when all is
 * over, since the model of the frame may be evaluated meanwhile.
 */
final class FrameRun {
  private static final int ROWS = 4096;

  /** Rows after the end in which nothing more may come. */
  private static final int AFTER = 256;

  private static final int MOST_KEPT = 64;
  private static final int LONE = -1; // pixel of a strike that belongs to none

  /** What can be wrong about a pixel as it comes. */
  enum Fault {
    OUTSIDE,
    TWICE,
    WRONG,
    LATE,
    CHANGED,
    WITHDRAWN
  }

  /** One pixel that is wrong in some way. */
  record Strike(Fault fault, long cycle, int x, int y, int colour) {}

  private final PixelPorts ports;
  private final Optional<String> done;
  private final int width;
  private final int height;

  final Picture actual;
  final boolean[] came;

  /** By pixel: cycles since the pixel came that was as many before as the chip has in hand. */
  final long[] waited;

  final List<Strike> strikes = new ArrayList<>();
  long faults;
  int arrived;
  long begin;
  long end; // cycle of the last pixel
  long doneAt = -1;
  boolean hung;

  private long stalledX = LONE; // what stands on the ports while the consumer is not ready
  private long stalledY;
  private long stalledColour;
  private long last;
  private final Optional<RayTimes> rays;
  private final int[] turns; // pixels in the order in which they came
  private final long[] cameAt; // cycles, in the same order
  private final long[] before; // when the last pixels came, as many as are in hand

  FrameRun(
      PixelPorts ports,
      int width,
      int height,
      Optional<String> done,
      int contexts,
      Optional<RayTimes> rays) {
    this.rays = rays;
    this.before = new long[contexts];
    this.ports = ports;
    this.done = done;
    this.width = width;
    this.height = height;
    this.actual = Picture.of(width, height);
    this.came = new boolean[width * height];
    this.waited = new long[width * height];
    this.turns = new int[width * height];
    this.cameAt = new long[width * height];
  }

  void run(Dut dut, Pacing.Pattern pacing, long timeout) {
    Batch batch = dut.batch(ROWS);
    long[] valid = batch.column(ports.valid());
    long[] ready = ports.ready().map(batch::column).orElse(null);
    long[] x = batch.column(ports.x());
    long[] y = batch.column(ports.y());
    long[] colour = batch.column(ports.colour());
    long[] over = done.map(batch::column).orElse(null);
    rays.ifPresent(times -> times.open(batch));
    RayTimes times = rays.orElse(null);
    begin = dut.cyclesRun();
    last = begin;
    Arrays.fill(before, begin);
    int after = 0;
    while (after < AFTER && !hung) {
      long from = dut.cyclesRun();
      if (ready != null) {
        pacing.fill(ready, 0, ROWS);
      }
      dut.run(batch, ROWS);
      for (int row = 0; row < ROWS && after < AFTER; row++) {
        after += isComplete() ? 1 : 0;
        if (times != null) {
          times.row(row, from + row);
        }
        if (valid[row] == 1) {
          boolean taken = ready == null || ready[row] == 1;
          offered(from + row, x[row], y[row], colour[row], taken);
        } else if (stalledX != LONE) {
          strike(Fault.WITHDRAWN, from + row, stalledX, stalledY, stalledColour);
          stalledX = LONE;
        }
        if (over != null && over[row] == 1 && doneAt < 0) {
          doneAt = from + row;
        }
      }
      hung = !isComplete() && dut.cyclesRun() - last > timeout;
    }
  }

  private boolean isComplete() {
    return done.isPresent() ? doneAt >= 0 : arrived == came.length;
  }

  private void offered(long cycle, long x, long y, long colour, boolean taken) {
    if (stalledX != LONE && (x != stalledX || y != stalledY || colour != stalledColour)) {
      strike(Fault.CHANGED, cycle, x, y, colour);
    }
    stalledX = taken ? LONE : x;
    stalledY = y;
    stalledColour = colour;
    if (!taken) {
      return;
    }
    if (x >= width || y >= height) {
      strike(Fault.OUTSIDE, cycle, x, y, colour);
      return;
    }
    int pixel = (int) (y * width + x);
    if (came[pixel]) {
      strike(Fault.TWICE, cycle, x, y, colour);
      return;
    }
    int turn = arrived % before.length;
    came[pixel] = true;
    turns[arrived] = pixel;
    cameAt[arrived] = cycle;
    arrived++;
    waited[pixel] = cycle - before[turn];
    before[turn] = cycle;
    last = cycle;
    end = cycle;
    actual.set((int) x, (int) y, (int) colour);
    if (doneAt >= 0) { // the frame was said to be over in a cycle before this one
      strike(Fault.LATE, cycle, x, y, colour);
    }
  }

  /** Holds the colours of all that came to what is expected. */
  void judge(FrameReference reference) {
    List<Strike> wrong = new ArrayList<>();
    for (int turn = 0; turn < arrived; turn++) {
      int x = turns[turn] % width;
      int y = turns[turn] / width;
      int colour = actual.at(x, y);
      if (reference.off(x, y, colour) > 0) {
        faults++;
        if (wrong.size() < MOST_KEPT) {
          wrong.add(new Strike(Fault.WRONG, cameAt[turn], x, y, colour));
        }
      }
    }
    // The first of all, in the order of cycles; what was wrong as it came is said before its
    // colour.
    strikes.addAll(wrong);
    strikes.sort(Comparator.comparingLong(Strike::cycle));
    strikes.subList(Math.min(MOST_KEPT, strikes.size()), strikes.size()).clear();
  }

  private void strike(Fault fault, long cycle, long x, long y, long colour) {
    faults++;
    if (strikes.size() < MOST_KEPT) {
      strikes.add(new Strike(fault, cycle, (int) x, (int) y, (int) colour));
    }
  }

  /** What {@link #waited} counts from. */
  String since() {
    return before.length == 1 ? "the pixel before" : "the pixel " + before.length + " before";
  }

  /** The output that should have said that the frame is over, where all else of it came. */
  Optional<String> neverHigh() {
    return done.filter(port -> doneAt < 0 && missing() == 0);
  }

  int missing() {
    return came.length - arrived;
  }

  /** The first pixel that never came, in the order of rows; -1 where all did. */
  int firstMissing() {
    for (int pixel = 0; pixel < came.length; pixel++) {
      if (!came[pixel]) {
        return pixel;
      }
    }
    return -1;
  }

  /** The cycles of all pixels that came, least first. */
  long[] sortedWaits() {
    long[] waits = new long[arrived];
    int count = 0;
    for (int pixel = 0; pixel < came.length; pixel++) {
      if (came[pixel]) {
        waits[count++] = waited[pixel];
      }
    }
    Arrays.sort(waits);
    return waits;
  }
}
