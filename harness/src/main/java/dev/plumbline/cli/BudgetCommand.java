package dev.plumbline.cli;

import dev.plumbline.frame.FrameBudget;
import java.io.PrintWriter;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** {@code plumbline budget}: how many cycles a ray may take. */
@Command(
    name = "budget",
    description =
        "Prints how many cycles a ray may take from its context, for a picture of a size at some"
            + " rates; and the rate at which rays that take so many cycles draw it.")
final class BudgetCommand implements Callable<Integer> {
  private static final Pattern SIZE = Pattern.compile("(\\d{1,5})x(\\d{1,5})");
  private static final double MEGA = 1e6;

  @Spec private CommandSpec spec;

  @Option(
      names = "--clock",
      paramLabel = "MHZ",
      description = "The clock in MHz; ${DEFAULT-VALUE} unless given.")
  private double clock = 50;

  @Option(
      names = "--size",
      paramLabel = "WxH",
      description = "Pixels in a row and rows; ${DEFAULT-VALUE} unless given.")
  private String size = "256x192";

  @Option(
      names = "--rays",
      paramLabel = "COUNT",
      description = "Rays a pixel on average, primary ones counted; ${DEFAULT-VALUE} unless given.")
  private double rays = 2;

  @Option(
      names = "--rate",
      paramLabel = "FPS",
      split = ",",
      description = "Frames a second, one or several; 1,5,10,15,30,60 unless given.")
  private List<Double> rates = List.of(1.0, 5.0, 10.0, 15.0, 30.0, 60.0);

  @Option(
      names = "--contexts",
      paramLabel = "COUNT",
      split = ",",
      description = "Pixels in hand at a time, one or several numbers; 1,2,3,4 unless given.")
  private List<Integer> contexts = List.of(1, 2, 3, 4);

  @Option(
      names = "--measured",
      paramLabel = "CYCLES",
      description = "What a ray of yours takes from its context, as a bench of frames says it.")
  private double measured;

  @Override
  public Integer call() {
    Matcher sides = SIZE.matcher(size);
    if (!sides.matches()) {
      throw refused("Size \"" + size + "\" is none; give it as 256x192.");
    }
    if (measured < 0) {
      throw refused("\"" + measured + "\" cycles a ray cannot have been measured.");
    }
    PrintWriter out = spec.commandLine().getOut();
    try {
      FrameBudget budget =
          new FrameBudget(
              clock * MEGA,
              1,
              Integer.parseInt(sides.group(1)),
              Integer.parseInt(sides.group(2)),
              1,
              rays);
      List<String> table = budget.table(rates, contexts);
      out.println(
          String.format(
              Locale.ROOT,
              "cycles a ray may take from its context: %s at %.1f MHz, %.2f rays a pixel",
              size,
              clock,
              rays));
      table.forEach(out::println);
      if (measured != 0) {
        print(out, budget, Integer.parseInt(sides.group(1)), Integer.parseInt(sides.group(2)));
      }
    } catch (IllegalArgumentException e) {
      throw refused(e.getMessage());
    }
    out.flush();
    return 0;
  }

  private void print(PrintWriter out, FrameBudget one, int width, int height) {
    for (int count : contexts) {
      FrameBudget budget = new FrameBudget(one.clock(), count, width, height, 1, rays);
      out.println(
          String.format(
              Locale.ROOT,
              "%.1f cycles a ray, %d context%s: %.2f frames a second",
              measured,
              count,
              count == 1 ? "" : "s",
              budget.rateAt(measured)));
    }
  }

  private ParameterException refused(String why) {
    return new ParameterException(spec.commandLine(), why);
  }
}
