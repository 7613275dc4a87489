package dev.plumbline.report;

import dev.plumbline.verdict.Fact;
import dev.plumbline.verdict.Verdict;
import java.nio.file.Path;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A line for CI to show at a file and line of the RTL: {@code ::error file=...,line=...::text}, the
 * workflow command of GitHub Actions (its documentation, "Workflow commands", has the escapes).
 * Printed where that CI is at work, or where property {@code plumbline.annotations} is {@code
 * true}.
 */
public final class Annotations {
  private static final Pattern PLACE =
      Pattern.compile("([^\\s:()]+\\.(?:v|sv|vh|svh)):([0-9]{1,9})");

  private Annotations() {}

  /**
   * Whether they are to be printed.
   *
   * @param property the property's value: true, false, or nothing for where a CI shows them
   * @return true where they are
   */
  public static boolean areWanted(String property) {
    return property.isEmpty()
        ? "true".equals(System.getenv("GITHUB_ACTIONS"))
        : property.equals("true");
  }

  /**
   * The folder that names of files are relative to.
   *
   * @return the CI's checkout; elsewhere the working folder
   */
  public static Path checkout() {
    return Path.of(System.getenv().getOrDefault("GITHUB_WORKSPACE", "")).toAbsolutePath();
  }

  /**
   * Of a verdict that is no pass.
   *
   * @param verdict the verdict
   * @param checkout the folder that the names of files are to be relative to
   * @return one line; without a place where nothing names a line of the RTL
   */
  public static String of(Verdict verdict, Path checkout) {
    return "::error "
        + place(verdict).map(place -> at(place, checkout)).orElse("")
        + "title="
        + property(verdict.bench() + ": " + verdict.outcome())
        + "::"
        + text(verdict.brief());
  }

  private static String at(Matcher place, Path checkout) {
    Path file = Path.of(place.group(1));
    Path within = file.isAbsolute() && file.startsWith(checkout) ? checkout.relativize(file) : file;
    return "file=" + property(within.toString()) + ",line=" + place.group(2) + ",";
  }

  private static Optional<Matcher> place(Verdict verdict) {
    for (Fact fact : verdict.findings().details()) {
      for (String line : fact.lines()) {
        Matcher place = PLACE.matcher(line);
        if (place.find()) {
          return Optional.of(place);
        }
      }
    }
    return Optional.empty();
  }

  private static String text(String plain) {
    return plain.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A");
  }

  private static String property(String plain) {
    return text(plain).replace(":", "%3A").replace(",", "%2C");
  }
}
