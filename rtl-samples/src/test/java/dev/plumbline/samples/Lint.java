package dev.plumbline.samples;

import dev.plumbline.toolchain.Toolchain;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Pattern;

/** Verilator as a linter over one top module. */
public final class Lint {
  /** With assertions live, and left out by the source as for synthesis. */
  public static final List<String> ASSERTIONS = List.of("--assert", "-DSYNTHESIS");

  /** Newer versions end with lines of their own on time and size. */
  private static final Pattern REPORT = Pattern.compile("(?m)^- .*\\R?");

  private Lint() {}

  /**
   * Lints with every warning on.
   *
   * @param folder the RTL folder
   * @param top the module and its file's name
   * @param parameters such as {@code W=8}
   * @param option one further option
   * @return status 0 and no output where the linter has nothing to complain of
   */
  public static Command.Outcome run(
      Path folder, String top, List<String> parameters, String option) {
    List<String> words =
        new ArrayList<>(
            List.of(
                Toolchain.find().verilator().toString(),
                "--lint-only",
                "-Wall",
                "--top-module",
                top));
    words.add(option);
    parameters.forEach(parameter -> words.add("-G" + parameter));
    words.add("-I" + folder);
    words.add(folder.resolve(top + ".sv").toString());
    Command.Outcome outcome = Command.run(folder, words);
    return new Command.Outcome(outcome.status(), REPORT.matcher(outcome.output()).replaceAll(""));
  }
}
