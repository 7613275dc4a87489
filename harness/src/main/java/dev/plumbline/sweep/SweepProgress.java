package dev.plumbline.sweep;

import java.io.PrintStream;
import java.util.Locale;
import java.util.function.LongSupplier;

/** A bar on the console with the share done, the rate and the time that is left. */
final class SweepProgress {
  private static final int WIDTH = 30;
  private static final long REDRAW = 500_000_000; // nanoseconds
  private static final long LINE = 60_000_000_000L;

  private final String name;
  private final long total;
  private final long before;
  private final boolean terminal;
  private final PrintStream out;
  private final LongSupplier clock;
  private final long started;
  private long shown = Long.MIN_VALUE;

  /**
   * A bar that begins with what was done before.
   *
   * @param terminal whether the line is drawn over and over in place; else one a minute
   * @param clock tells nanoseconds
   */
  SweepProgress(
      String name, long total, long before, boolean terminal, PrintStream out, LongSupplier clock) {
    this.name = name;
    this.total = total;
    this.before = before;
    this.terminal = terminal;
    this.out = out;
    this.clock = clock;
    this.started = clock.getAsLong();
  }

  /** Shows so many cases done, if it is time to, or if those are all. */
  void done(long cases) {
    long now = clock.getAsLong();
    boolean over = cases >= total;
    if (!over && shown != Long.MIN_VALUE && now - shown < (terminal ? REDRAW : LINE)) {
      return;
    }
    shown = now;
    String line = line(cases, (now - started) / 1e9);
    if (terminal) {
      out.print("\r" + line + (over ? System.lineSeparator() : ""));
    } else {
      out.println(line);
    }
    out.flush();
  }

  private String line(long cases, double seconds) {
    int full = (int) (cases * WIDTH / total);
    double rate = seconds > 0 ? (cases - before) / seconds : 0;
    String left = rate > 0 ? time((long) Math.ceil((total - cases) / rate)) : "?";
    return String.format(
        Locale.ROOT,
        "%s [%s%s] %6.2f %%  %.2f M cases/s  %s left ",
        name,
        "#".repeat(full),
        ".".repeat(WIDTH - full),
        100.0 * cases / total,
        rate / 1e6,
        left);
  }

  private static String time(long seconds) {
    return String.format(
        Locale.ROOT, "%d:%02d:%02d", seconds / 3600, seconds / 60 % 60, seconds % 60);
  }
}
