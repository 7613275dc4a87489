package dev.plumbline.regression;

import dev.plumbline.text.PlainText;
import java.io.PrintStream;
import java.util.Locale;
import me.tongfei.progressbar.DelegatingProgressBarConsumer;
import me.tongfei.progressbar.ProgressBar;
import me.tongfei.progressbar.ProgressBarBuilder;
import me.tongfei.progressbar.ProgressBarStyle;

/**
 * The console of a regression. On a terminal a line at the bottom says how far it is: benches done,
 * time spent and time left, the bench at work and its rate. Nowhere else is there such a line.
 */
final class Progress implements AutoCloseable {
  /** A bench counts as so many steps, whatever its cases. */
  private static final int STEPS = 1_000;

  private static final int WIDTH = 100;
  private static final int REDRAW = 500; // milliseconds

  private final PrintStream out;
  private final ProgressBar bar; // null where there is no terminal
  private int finished;
  private String bench = "";
  private long firstCases;
  private long firstTime; // 0 until cases were compared: a rate says nothing of builds
  private int drawn;

  Progress(PrintStream out, int benches, boolean terminal) {
    this.out = out;
    this.bar = terminal ? bar(benches) : null;
  }

  private ProgressBar bar(int benches) {
    return new ProgressBarBuilder()
        .setTaskName("benches")
        .setInitialMax((long) benches * STEPS)
        .setUnit("", STEPS)
        .setUpdateIntervalMillis(REDRAW)
        .setStyle(
            ProgressBarStyle.builder()
                .leftBracket("")
                .rightBracket("")
                .block('#')
                .space('.')
                .fractionSymbols(".")
                .refreshPrompt("")
                .build())
        .continuousUpdate()
        .setConsumer(new DelegatingProgressBarConsumer(this::draw, WIDTH))
        .build();
  }

  private synchronized void draw(String line) {
    String text = line.stripTrailing();
    out.print("\r" + text + " ".repeat(Math.max(0, drawn - text.length())));
    out.flush();
    drawn = text.length();
  }

  /** Prints lines above the progress line. */
  synchronized void say(String lines) {
    clear();
    out.println(lines);
    out.flush();
  }

  private synchronized void clear() {
    if (drawn > 0) {
      out.print("\r" + " ".repeat(drawn) + "\r");
      drawn = 0;
    }
  }

  void begins(String name) {
    bench = PlainText.line(name);
    firstTime = 0;
    if (bar != null) {
      bar.setExtraMessage(bench);
    }
  }

  /** Is told by threads of the bench. */
  void checked(long cases, long of) {
    if (bar == null || of <= 0) {
      return;
    }
    bar.stepTo((long) finished * STEPS + Math.min(STEPS, (long) (STEPS * ((double) cases / of))));
    if (firstTime == 0) {
      firstCases = cases;
      firstTime = System.nanoTime();
      return;
    }
    double seconds = (System.nanoTime() - firstTime) / 1e9;
    bar.setExtraMessage(
        String.format(
            Locale.ROOT, "%s, %.2f M cases/s", bench, (cases - firstCases) / seconds / 1e6));
  }

  void ends() {
    finished++;
    if (bar != null) {
      bar.stepTo((long) finished * STEPS);
    }
  }

  @Override
  public void close() {
    if (bar != null) {
      bar.close();
      clear();
    }
  }
}
