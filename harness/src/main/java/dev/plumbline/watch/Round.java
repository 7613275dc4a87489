package dev.plumbline.watch;

import dev.plumbline.text.PlainText;
import dev.plumbline.toolchain.BuildNotes.Note;
import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.platform.engine.TestExecutionResult;
import org.junit.platform.launcher.TestExecutionListener;
import org.junit.platform.launcher.TestIdentifier;

/**
 * Benches that are run one after the other: a line for each, and the whole text of the first red.
 */
final class Round implements TestExecutionListener {
  private static final int WORDS = 160;

  private final int number;
  private final Map<String, WatchedMethod> benches = new LinkedHashMap<>();
  private final int width;
  private final PrintStream out;
  private final ByteArrayOutputStream printed;
  private final Map<WatchedMethod, Throwable> thrown = new LinkedHashMap<>();
  private final Set<WatchedMethod> early =
      ConcurrentHashMap.newKeySet(); // those whose line is there
  private volatile WatchedMethod current; // null between two
  private long begun;
  private Set<String> due = Set.of(); // identifiers of those that JUnit was given
  private boolean toldRed;
  private int passed;
  private int red;

  /**
   * A round.
   *
   * @param number from 1
   * @param benches those that may run
   * @param out the console
   * @param printed what tests print goes there; emptied as each begins
   */
  Round(
      int number,
      Collection<WatchedMethod> benches,
      PrintStream out,
      ByteArrayOutputStream printed) {
    this.number = number;
    benches.forEach(bench -> this.benches.put(bench.id, bench));
    this.width = benches.stream().mapToInt(bench -> bench.name.length()).max().orElse(0);
    this.out = out;
    this.printed = printed;
  }

  /** JUnit is about to run these. */
  void gives(Collection<String> identifiers) {
    due = Set.copyOf(identifiers);
  }

  int passed() {
    return passed;
  }

  int red() {
    return red;
  }

  /** Takes note of a design that the bench under way uses. */
  void uses(Note note) {
    WatchedMethod bench = current;
    if (bench != null) {
      synchronized (bench) {
        bench.uses(note);
      }
    }
  }

  /** The bench under way is red; what is known of it follows. */
  void turnsRed() {
    WatchedMethod bench = current;
    if (bench != null && early.add(bench)) {
      line(bench, "what is known follows");
    }
  }

  @Override
  public void executionStarted(TestIdentifier test) {
    WatchedMethod bench = benches.get(test.getUniqueId());
    if (bench != null) {
      printed.reset();
      synchronized (bench) {
        bench.begins();
      }
      current = bench;
      begun = System.nanoTime();
    }
  }

  @Override
  public void executionFinished(TestIdentifier test, TestExecutionResult result) {
    boolean failed = result.getStatus() == TestExecutionResult.Status.FAILED;
    Throwable why =
        result.getThrowable().orElseGet(() -> new AssertionError("the test failed without a word"));
    WatchedMethod bench = benches.get(test.getUniqueId());
    if (bench != null) {
      if (failed) {
        thrown.putIfAbsent(bench, why);
      }
      ended(bench);
      current = null;
    } else if (current != null && failed) {
      thrown.putIfAbsent(current, why); // an invocation of a bench that has several
    } else if (failed) {
      // What is done before or after all of a class: none of its benches ran, or not rightly.
      within(test)
          .filter(each -> !each.hasRunIn(number))
          .forEach(
              each -> {
                begun = System.nanoTime();
                thrown.put(each, why);
                ended(each);
              });
    }
  }

  @Override
  public void executionSkipped(TestIdentifier test, String reason) {
    within(test).forEach(each -> each.ran(number, false));
  }

  private Stream<WatchedMethod> within(TestIdentifier container) {
    return due.stream().filter(id -> id.startsWith(container.getUniqueId())).map(benches::get);
  }

  private void ended(WatchedMethod bench) {
    Throwable why = thrown.get(bench);
    bench.ran(number, why != null);
    if (why == null) {
      passed++;
      line(bench, "");
      return;
    }
    red++;
    if (early.add(bench)) {
      line(bench, firstLine(why));
    }
    if (!toldRed) {
      toldRed = true;
      out.println(text(why).indent(2).stripTrailing());
      out.flush();
    }
  }

  /** Its line; a red one has words. */
  private void line(WatchedMethod bench, String words) {
    double seconds = (System.nanoTime() - begun) / 1e9;
    String line =
        String.format(
            Locale.ROOT,
            "%-4s  %-" + width + "s  %6.2f s  %s",
            words.isEmpty() ? "pass" : "RED",
            bench.name,
            seconds,
            words);
    out.println(line.stripTrailing());
    out.flush();
  }

  private static String firstLine(Throwable why) {
    String line = PlainText.lines(words(why)).lines().findFirst().orElse("no word").strip();
    return line.length() <= WORDS ? line : line.substring(0, WORDS) + "...";
  }

  private static String words(Throwable why) {
    return why.getMessage() == null ? why.toString() : why.getMessage();
  }

  /** What it says, where in the test, and what the test printed. */
  private String text(Throwable why) {
    Function<StackTraceElement, String> at = place -> "at " + place;
    String places =
        Arrays.stream(why.getStackTrace())
            .filter(place -> current != null && isOf(place, current))
            .map(at)
            .collect(Collectors.joining("\n"));
    String said = printed.toString(StandardCharsets.UTF_8).strip();
    return PlainText.lines(
        words(why).stripTrailing()
            + (places.isEmpty() ? "" : "\n" + places)
            + (said.isEmpty() ? "" : "\n" + said));
  }

  private static boolean isOf(StackTraceElement place, WatchedMethod bench) {
    String type = place.getClassName();
    return bench.name.startsWith(type.substring(type.lastIndexOf('.') + 1) + ".");
  }
}
