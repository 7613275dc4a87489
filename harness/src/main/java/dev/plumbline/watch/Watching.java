package dev.plumbline.watch;

import dev.plumbline.report.RunReport;
import dev.plumbline.toolchain.BuildNotes;
import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.ZoneOffset;
import java.time.ZonedDateTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.function.Predicate;
import java.util.stream.Collectors;

/**
 * Runs test classes, and after each save those of their tests again that the change reaches, in a
 * JVM that stays warm.
 *
 * <pre>{@code
 * new Watching(List.of(Path.of("target/test-classes")), List.of("GearTest"), System.out).run();
 * }</pre>
 *
 * <p>A test is reached by a change of a file that a design of its was read from, if Verilator makes
 * something else of the design; by any other change beside those files, such as of a memory file;
 * and by any change of compiled classes. Tests that are red come first, those that turned red last
 * before the others. Evidence stands in {@code reports/watch}, that of the newest round.
 */
public final class Watching {
  private final Set<Path> places;
  private final List<String> names;
  private final TestClasses tests;
  private final PrintStream out;
  private final ByteArrayOutputStream printed = new ByteArrayOutputStream();
  private final Map<String, WatchedMethod> benches = new LinkedHashMap<>();
  private final Path reports = RunReport.current().folder().resolveSibling("watch");
  private int rounds;
  private volatile Round round; // null between two

  /**
   * A watch that has not begun.
   *
   * @param places folders of compiled tests and what they use, jars of what else they use
   * @param names test classes, with or without their packages; all in those folders where none is
   *     named
   * @param out where lines go
   * @throws WatchException when a place is not there
   */
  public Watching(List<Path> places, List<String> names, PrintStream out) {
    for (Path place : places) {
      if (!Files.exists(place)) {
        throw new WatchException(
            "There is no \""
                + place
                + "\"; compiled test classes are wanted there. Have your build compile them, as mvn"
                + " test-compile does, or say where they are by --classes.",
            null);
      }
    }
    this.places =
        places.stream()
            .map(place -> place.toAbsolutePath().normalize())
            .collect(Collectors.toCollection(LinkedHashSet::new));
    this.names = List.copyOf(names);
    this.tests = new TestClasses(List.copyOf(this.places), names);
    this.out = out;
  }

  /**
   * Runs all tests, and then those that changes reach, until this thread is interrupted.
   *
   * @throws InterruptedException when it is
   * @throws WatchException when there are no tests
   */
  public void run() throws InterruptedException {
    BuildNotes.tell(
        note -> {
          Round now = round;
          if (now != null) {
            now.uses(note);
          }
        });
    RunReport.tellOfRed(
        bench -> {
          Round now = round;
          if (now != null) {
            now.turnsRed();
          }
        });
    PrintStream before = System.out;
    System.setOut(new PrintStream(printed, true, StandardCharsets.UTF_8));
    try (SavedFiles files = new SavedFiles(places)) {
      find();
      if (benches.isEmpty()) {
        throw new WatchException(
            "There is no test "
                + (names.isEmpty() ? "" : "of \"" + String.join("\", \"", names) + "\" ")
                + "in "
                + places
                + "; name test classes that are compiled there",
            null);
      }
      runAll(bench -> true, System.nanoTime());
      while (!Thread.interrupted()) {
        benches
            .values()
            .forEach(bench -> files.alsoIn(bench.folders().collect(Collectors.toSet())));
        out.println("watching " + count(benches.size(), "test") + "; Ctrl-C ends it");
        out.flush();
        after(files.await(), files);
      }
      throw new InterruptedException();
    } finally {
      System.setOut(before);
      BuildNotes.tell(note -> {});
      RunReport.tellOfRed(bench -> {});
    }
  }

  private void find() {
    Map<String, String> now = tests.benches();
    benches.keySet().retainAll(now.keySet());
    now.forEach((id, name) -> benches.computeIfAbsent(id, key -> new WatchedMethod(id, name)));
  }

  private void after(Set<Path> changed, SavedFiles files) {
    long saved = System.nanoTime();
    boolean isJava = changed.stream().anyMatch(files::isInTree);
    out.println(saved(changed) + " changed");
    out.flush();
    if (isJava) {
      find();
      runAll(bench -> true, saved);
      return;
    }
    Set<Path> known =
        benches.values().stream().flatMap(WatchedMethod::files).collect(Collectors.toSet());
    runAll(bench -> bench.isReached(changed, known), saved);
  }

  private static String saved(Set<Path> changed) {
    String names =
        changed.stream()
            .limit(3)
            .map(f -> f.getFileName().toString())
            .collect(Collectors.joining(", "));
    return changed.size() > 3 ? names + " and " + (changed.size() - 3) + " more" : names;
  }

  /** Runs those that are reached: red ones one by one, newest first, then the others by class. */
  private void runAll(Predicate<WatchedMethod> isReached, long saved) {
    rounds++;
    List<WatchedMethod> red =
        benches.values().stream()
            .filter(WatchedMethod::isRed)
            .sorted(Comparator.comparing(WatchedMethod::redSince).reversed())
            .toList();
    Map<String, List<WatchedMethod>> groups = new LinkedHashMap<>();
    red.forEach(bench -> groups.put(bench.id, List.of(bench)));
    benches.values().stream()
        .filter(bench -> !bench.isRed())
        .forEach(
            bench -> groups.computeIfAbsent(bench.container(), id -> new ArrayList<>()).add(bench));
    // A run of its own: what RunReport keeps is the newest run, and the last that was green.
    String name =
        String.format(
            Locale.ROOT, "%1$tFT%1$tH-%1$tM-%1$tS.%1$tLZ", ZonedDateTime.now(ZoneOffset.UTC));
    Round now = new Round(rounds, benches.values(), out, printed);
    Map<String, String> parameters =
        Map.of(
            "basedir", Path.of("").toAbsolutePath().toString(),
            "plumbline.reports", reports.toString(),
            "plumbline.run", name);
    round = now;
    try {
      tests.withCode(
          () -> {
            for (List<WatchedMethod> group : groups.values()) {
              List<String> reached =
                  group.stream().filter(isReached).map(bench -> bench.id).toList();
              if (!reached.isEmpty()) {
                now.gives(reached);
                tests.run(reached, parameters, now);
              }
            }
          });
    } finally {
      round = null;
    }
    int unreached = benches.size() - now.passed() - now.red();
    out.printf(
        Locale.ROOT,
        "%d pass, %d red%s; %.2f s%n",
        now.passed(),
        now.red(),
        unreached == 0 ? "" : ", " + unreached + " not reached",
        (System.nanoTime() - saved) / 1e9);
    out.flush();
  }

  private static String count(int many, String what) {
    return many + " " + what + (many == 1 ? "" : "s");
  }
}
