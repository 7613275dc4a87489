package dev.plumbline.regression;

import dev.plumbline.text.PlainText;
import java.io.Console;
import java.io.PrintStream;
import java.lang.reflect.InvocationTargetException;
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
  private long started;
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
                .fractionSymbols("")
                .refreshPrompt("")
                .build())
        .continuousUpdate()
        .setConsumer(new DelegatingProgressBarConsumer(this::draw, WIDTH))
        .build();
  }

  /** Maven hands its terminal on; a pipe or a file is none, and CI wants no line drawn over. */
  @SuppressWarnings("SystemConsoleNull") // what it says of JDK 22 is seen to below
  static boolean isTerminal() {
    Console console = System.console();
    if (console == null
        || System.getenv("CI") != null
        || System.getenv().getOrDefault("TERM", "dumb").equals("dumb")) {
      return false;
    }
    try { // from JDK 22 on there is a console where there is no terminal, too
      return (boolean) Console.class.getMethod("isTerminal").invoke(console);
    } catch (NoSuchMethodException e) {
      return true;
    } catch (IllegalAccessException | InvocationTargetException e) {
      return false;
    }
  }

  private synchronized void draw(String line) {
    String text = line.stripTrailing();
    out.print("\r" + text + " ".repeat(Math.max(0, drawn - text.length())));
    out.flush();
    drawn = text.length();
  }

  /** Prints lines above the progress line. */
  synchronized void say(String lines) {
    if (drawn > 0) {
      out.print("\r" + " ".repeat(drawn) + "\r");
      drawn = 0;
    }
    out.println(lines);
    out.flush();
  }

  void begins(String name) {
    bench = PlainText.line(name);
    started = System.nanoTime();
    if (bar != null) {
      bar.setExtraMessage(bench);
    }
  }

  /** Is told by threads of the bench. */
  void checked(long cases, long of) {
    if (bar == null || of <= 0) {
      return;
    }
    double seconds = (System.nanoTime() - started) / 1e9;
    bar.stepTo((long) finished * STEPS + Math.min(STEPS, (long) (STEPS * ((double) cases / of))));
    bar.setExtraMessage(
        String.format(Locale.ROOT, "%s, %.2f M cases/s", bench, cases / seconds / 1e6));
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
      say("");
    }
  }
}
