package dev.plumbline.regression;

import dev.plumbline.report.Annotations;
import dev.plumbline.report.RunReport;
import dev.plumbline.stimulus.SeedText;
import dev.plumbline.text.Terminal;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Verdict;
import java.io.PrintStream;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.function.LongSupplier;

/**
 * Named benches, run one after the other: a line for each as it ends, what is wrong below it, a
 * summary at the end. A bench whose DUT ends by itself, or that cannot be run at all, is red by its
 * name, and the others run.
 *
 * <pre>{@code
 * public static void main(String[] arguments) {
 *   System.exit(
 *       Regression.fromProperties(1_000_000)
 *           .bench("gear", to -> Bench.of(CompiledDesign.of(rtl)).named("gear").contract(contract)
 *               .cases(to.cases()).seed(to.seed()).recorder(to.recorder()).repeat(to.repeat()).run())
 *           .run());
 * }
 * }</pre>
 */
public final class Regression {
  private final long cases;
  private final long seed;
  private final String only;
  private final Map<String, Runner> benches = new LinkedHashMap<>();
  private RunReport run; // null for that of the process
  private PrintStream out = System.out;
  private String command = "";
  private double seconds; // 0 for no end
  private LongSupplier clock = System::nanoTime;

  /**
   * What a bench of the regression is run with.
   *
   * @param cases how many
   * @param seed what all chance follows from
   * @param recorder who keeps the verdict
   * @param repeat the command that repeats the bench alone
   */
  public record Settings(long cases, long seed, Recorder recorder, String repeat) {}

  /** Runs one bench. */
  @FunctionalInterface
  public interface Runner {
    /**
     * Builds the model, runs the bench and gives its verdict; what it throws is reported, and ends
     * this bench alone.
     *
     * @param settings what it is run with
     * @return what was found; recorded, unless the recorder has it already
     */
    Verdict run(Settings settings);
  }

  private Regression(long cases, long seed, String only) {
    this.cases = cases;
    this.seed = seed;
    this.only = only;
  }

  /**
   * A regression as the properties {@code plumbline.cases}, {@code plumbline.seed} and {@code
   * plumbline.only} say; unset or empty ones are the standard. Property {@code plumbline.minutes}
   * gives a time instead of cases, which benches share by need: see {@link #within}.
   *
   * @param standardCases cases of each bench unless the property says otherwise
   * @return a regression without benches; the seed is 1 and all are chosen unless set
   * @throws IllegalArgumentException when a property is no number that is allowed
   */
  public static Regression fromProperties(long standardCases) {
    String seed = System.getProperty("plumbline.seed", "");
    Regression regression =
        of(
            cases(System.getProperty("plumbline.cases", ""), standardCases),
            seed.isBlank() ? 1 : SeedText.parse(seed),
            System.getProperty("plumbline.only", ""));
    regression.seconds = TimeBudget.seconds(System.getProperty("plumbline.minutes", ""));
    return regression;
  }

  /**
   * A regression by what is said of it.
   *
   * @param cases of each bench, 0 or more
   * @param seed what all chance follows from
   * @param only parts of the names of the benches to run, with commas between them; all have the
   *     empty one
   * @return a regression without benches
   */
  public static Regression of(long cases, long seed, String only) {
    return new Regression(cases, seed, only);
  }

  static long cases(String text, long standard) {
    if (text.isBlank()) {
      return standard;
    }
    try {
      long count = Long.parseLong(text.strip());
      if (count >= 0) {
        return count;
      }
    } catch (NumberFormatException e) {
      // reported below
    }
    throw new IllegalArgumentException(
        "Property plumbline.cases cannot be \""
            + text
            + "\"; a whole number, 0 or more, is allowed.");
  }

  /**
   * Sets where verdicts and lines go.
   *
   * @param kept the run; that of the process unless set
   * @param lines the console; standard output unless set
   * @return this regression
   */
  public Regression to(RunReport kept, PrintStream lines) {
    run = kept;
    out = lines;
    return this;
  }

  /**
   * Sets the command that starts the regression, for those that repeat one bench.
   *
   * @param words such as {@code mvn -q test -Pregression}; none unless set
   * @return this regression
   */
  public Regression command(String words) {
    command = words;
    return this;
  }

  /**
   * A time as property {@code plumbline.minutes} says it.
   *
   * @param minutes a number above 0, such as 90 or 0.5
   * @return seconds; 0 for the empty text
   * @throws IllegalArgumentException when it is none
   */
  public static double seconds(String minutes) {
    return TimeBudget.seconds(minutes);
  }

  /**
   * Sets a time instead of a number of cases. Each bench is tried on 20,000 cases, which tells its
   * rate, and then gets as many as its share of the time that is left has room for. Shares follow
   * need: three times as much where a bench was not green in one of its last five runs, twice where
   * its rarest coverage point was met by fewer than 100 cases, twice where it is new. A bench whose
   * turn comes when the time is over is held to those 20,000 alone, so that none is left out, or to
   * ten or a hundred times as many where they bring no result that can be judged.
   *
   * @param time in seconds, above 0
   * @return this regression
   */
  public Regression within(double time) {
    seconds = time;
    return this;
  }

  /** Takes the time from elsewhere. */
  Regression clock(LongSupplier nanoseconds) {
    clock = nanoseconds;
    return this;
  }

  /**
   * Adds a bench.
   *
   * @param name its name, as its verdict has it
   * @param runner runs it when its turn comes
   * @return this regression
   */
  public Regression bench(String name, Runner runner) {
    if (benches.putIfAbsent(name, runner) != null) {
      throw new IllegalArgumentException(
          "A regression cannot have two benches \"" + name + "\"; give one another name.");
    }
    return this;
  }

  /**
   * Runs the chosen benches in the order in which they were added.
   *
   * @return the exit status: 0 when all passed, else 1
   * @throws IllegalArgumentException when none is chosen
   */
  public int run() {
    Map<String, Runner> chosen = new LinkedHashMap<>(benches);
    chosen.keySet().removeIf(name -> !isChosen(name));
    if (chosen.isEmpty()) {
      throw new IllegalArgumentException(
          "No bench has \""
              + only
              + "\" in its name; there are: "
              + String.join(", ", benches.keySet())
              + ".");
    }
    RunReport kept = run == null ? RunReport.current() : run;
    int width = chosen.keySet().stream().mapToInt(String::length).max().orElseThrow();
    boolean passed = true;
    boolean annotated = Annotations.areWanted(System.getProperty("plumbline.annotations", ""));
    boolean terminal = out == System.out && Terminal.isThere();
    Map<String, Double> weights = new LinkedHashMap<>();
    if (seconds > 0) {
      chosen.keySet().forEach(name -> weights.put(name, TimeBudget.weight(kept.before(name))));
    }
    TimeBudget budget = new TimeBudget(seconds, clock);
    try (Progress progress = new Progress(out, chosen.size(), terminal)) {
      for (var bench : chosen.entrySet()) {
        String name = bench.getKey();
        progress.begins(name);
        long many = seconds > 0 ? share(name, bench.getValue(), weights, budget) : cases;
        Verdict verdict =
            new Turn(name, kept, progress)
                .run(bench.getValue(), (of, to) -> settings(of, to, many));
        passed &= verdict.isPass();
        progress.ends();
        progress.say(line(verdict, width));
        if (!verdict.isPass()) {
          progress.say(verdict.brief() + System.lineSeparator());
          if (annotated) {
            progress.say(Annotations.of(verdict, Annotations.checkout()));
          }
        }
      }
    }
    out.print(kept.consoleSummary());
    out.flush();
    return passed ? 0 : 1;
  }

  private boolean isChosen(String name) {
    return Arrays.stream(only.split(",", -1)).map(String::strip).anyMatch(name::contains);
  }

  /** How many cases a bench gets, which takes its weight out of those that are to come. */
  private long share(String name, Runner runner, Map<String, Double> weights, TimeBudget budget) {
    double all = weights.values().stream().mapToDouble(weight -> weight).sum();
    double share = weights.remove(name) / all;
    try {
      long tried = TimeBudget.TRIAL;
      Verdict trial = runner.run(settings(name, Recorder.none(), tried));
      while (tried < TimeBudget.LONGEST_TRIAL
          && (trial.outcome() == Verdict.Outcome.NOTHING_CHECKED // such as half a picture
              || budget.isTooShort(share, trial.checked().seconds()))) {
        tried *= 10;
        trial = runner.run(settings(name, Recorder.none(), tried));
      }
      return trial.outcome() == Verdict.Outcome.MISMATCH
          ? tried // it is red already, and more cases make it no redder
          : budget.cases(share, tried, trial.checked().seconds());
    } catch (RuntimeException | Error e) {
      return TimeBudget.TRIAL; // its turn tells
    }
  }

  private Settings settings(String name, Recorder recorder, long cases) {
    String repeat =
        String.format(
            Locale.ROOT,
            "%s -Dplumbline.only='%s' -Dplumbline.cases=%d -Dplumbline.seed=%d",
            command,
            name,
            cases,
            seed);
    return new Settings(cases, seed, recorder, repeat.strip());
  }

  private static String line(Verdict verdict, int width) {
    return String.format(
        Locale.ROOT,
        "%-15s  %-" + width + "s  %d cases in %.1f s",
        verdict.outcome(),
        verdict.bench(),
        verdict.cases(),
        verdict.checked().seconds());
  }
}
