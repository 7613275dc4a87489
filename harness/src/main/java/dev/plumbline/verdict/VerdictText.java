package dev.plumbline.verdict;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.text.PlainText;
import java.math.BigInteger;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;

/** A verdict as text: a heading, then its facts as aligned lines. */
final class VerdictText {
  private static final int MOST_TEXT = 2_000;
  private static final int MOST_LINES = 20;

  /** What {@link #brief} keeps whole as long as it can. */
  private static final Set<String> WHOLE = Set.of("inputs", "stage");

  private static final List<String> LEAST_MISSED =
      List.of("printed", "seed", "checked", "also", "mismatches", "group 3", "group 2", "case");

  private static final String MORE = "... the rest is in facts.txt";

  /** Room for a label and the space after it. */
  private static final int LABEL = 11;

  private VerdictText() {}

  static String of(Verdict verdict) {
    return text(verdict, facts(verdict));
  }

  /** As many lines as are taken in at a glance; what is cut stands in the evidence folder. */
  static String brief(Verdict verdict) {
    List<Fact> facts = facts(verdict);
    if (verdict.evidenceFolder().isPresent()) {
      long around = text(verdict, List.of()).lines().count();
      shorten(facts, (int) (MOST_LINES - around));
    }
    return text(verdict, facts);
  }

  /** Whatever else is long first, then what is least missed, the inputs last of all. */
  private static void shorten(List<Fact> facts, int room) {
    while (lines(facts) > room) {
      Optional<Fact> longest =
          facts.stream()
              .filter(fact -> fact.lines().size() > 1 && !WHOLE.contains(fact.label()))
              .max(Comparator.comparingInt(fact -> fact.lines().size()));
      if (longest.isEmpty()) {
        break;
      }
      facts.set(facts.indexOf(longest.get()), shorter(longest.get()));
    }
    for (String label : LEAST_MISSED) {
      if (lines(facts) > room) {
        facts.removeIf(fact -> fact.label().equals(label));
      }
    }
    for (int i = 0; i < facts.size(); i++) {
      while (lines(facts) > room && facts.get(i).lines().size() > 2) {
        facts.set(i, shorter(facts.get(i)));
      }
    }
  }

  private static int lines(List<Fact> facts) {
    return facts.stream().mapToInt(fact -> fact.lines().size()).sum();
  }

  /** Without its last line; of a group the likely kind stays longest. */
  private static Fact shorter(Fact fact) {
    List<String> lines = new ArrayList<>(fact.lines());
    boolean isCut = lines.remove(MORE);
    Optional<String> likely =
        lines.stream().filter(line -> line.startsWith(MismatchGroup.LIKELY)).findFirst();
    if (likely.isPresent()) {
      return new Fact(
          fact.label(),
          lines.size() > 2 ? List.of(lines.get(0), likely.get()) : List.of(likely.get()));
    }
    if (lines.size() <= (isCut ? 1 : 2)) {
      return new Fact(fact.label(), List.of(lines.get(0)));
    }
    lines.remove(lines.size() - 1);
    if (!isCut) {
      lines.remove(lines.size() - 1);
    }
    lines.add(MORE);
    return new Fact(fact.label(), lines);
  }

  private static String text(Verdict verdict, List<Fact> facts) {
    StringBuilder text = new StringBuilder(verdict.bench()).append(": ").append(heading(verdict));
    for (Fact fact : facts) {
      String label = fact.label();
      for (String line : fact.lines()) {
        text.append(System.lineSeparator())
            .append(
                String.format(Locale.ROOT, "  %-" + LABEL + "s%s", label, line).stripTrailing());
        label = "";
      }
    }
    if (verdict.outcome() == Verdict.Outcome.MISMATCH && !verdict.explanation().isEmpty()) {
      text.append(System.lineSeparator()).append(verdict.explanation());
    }
    return PlainText.lines(text.toString());
  }

  private static String heading(Verdict verdict) {
    return switch (verdict.outcome()) {
      case PASS -> "pass";
      case UNCHANGED -> "not run again, since it " + verdict.explanation();
      case MISMATCH -> heading(verdict.kept().get(0));
      case NOTHING_CHECKED -> "the check could not judge, since " + verdict.explanation();
      case NOT_REACHED -> "nothing differs, but the cases not reached: " + verdict.explanation();
      case DUT_ENDED -> "the DUT ended by itself: " + verdict.explanation();
    };
  }

  private static String heading(Mismatch mismatch) {
    return switch (mismatch.kind()) {
      case INITIAL_STATE_SHOWS ->
          mismatch.words() + " (state from before the reset shows after it)";
      case STALE_DATA_SHOWS ->
          mismatch.words()
              + " (they differ between initial states and later ones do not: a register that the"
              + " reset does not clear is visible before a case has written it)";
      default -> mismatch.words();
    };
  }

  private static List<Fact> facts(Verdict verdict) {
    List<Fact> facts = new ArrayList<>();
    if (verdict.outcome() == Verdict.Outcome.MISMATCH) {
      mismatch(facts, verdict);
    }
    facts.addAll(verdict.findings().inside().facts());
    facts.addAll(verdict.findings().details());
    for (int i = 0; i < verdict.groups().size(); i++) {
      facts.add(new Fact("group " + (i + 1), verdict.groups().get(i).lines(i + 1)));
    }
    facts.add(
        Fact.of(
            "checked",
            String.format(
                Locale.ROOT, "%d cases in %d cycles", verdict.cases(), verdict.cycles())));
    bounds(verdict).ifPresent(facts::add);
    verdict.checked().deviations().stream()
        .map(output -> new Fact("deviation", output.lines()))
        .forEach(facts::add);
    facts.add(Fact.of("seed", Long.toString(verdict.origin().seed())));
    verdict.evidenceFolder().ifPresent(at -> facts.add(Fact.of("folder", at.toString())));
    if (!verdict.isPass() && !verdict.origin().repeat().isEmpty()) {
      facts.add(Fact.of("repeat", verdict.origin().repeat()));
      oneCase(verdict).ifPresent(facts::add);
    }
    if (!verdict.findings().text().isEmpty()) {
      String printed = verdict.findings().text().strip();
      boolean cut = printed.length() > MOST_TEXT;
      facts.add(Fact.of("printed", cut ? printed.substring(0, MOST_TEXT) + " ..." : printed));
    }
    return facts;
  }

  /** The command that runs the first of the smallest cases alone. */
  private static Optional<Fact> oneCase(Verdict verdict) {
    for (int i = 0; i < verdict.groups().size(); i++) {
      if (verdict.groups().get(i).smallest().isPresent()) {
        String folder = verdict.evidenceFolder().map(Path::toString).orElse("FOLDER");
        String file = folder + "/case-" + (i + 1) + ".csv";
        return Optional.of(
            Fact.of("one case", verdict.origin().repeat() + " -Dplumbline.case=" + file));
      }
    }
    return Optional.empty();
  }

  /** How wide the allowed ranges were, and what they would have shown; nothing of exact ones. */
  private static Optional<Fact> bounds(Verdict verdict) {
    List<String> lines =
        verdict.bounds().stream()
            .filter(output -> output.worstWidth() >= 0)
            .map(VerdictText::bounds)
            .toList();
    return lines.isEmpty() ? Optional.empty() : Optional.of(new Fact("bounds", lines));
  }

  private static String bounds(Verdict.Bounds output) {
    if (output.isDecision()) {
      return output.output() + ": " + output.seen();
    }
    return output.output()
        + " ("
        + output.format()
        + "): "
        + output.medianWidth()
        + " LSB wide at the median, "
        + output.worstWidth()
        + " at most; smallest error that half of the results would have shown: "
        + output.seen()
        + (output.open() == 0 ? "" : "; " + output.open() + " of " + output.compared() + " open");
  }

  private static void mismatch(List<Fact> facts, Verdict verdict) {
    Mismatch mismatch = verdict.kept().get(0);
    facts.add(Fact.of("signal", signal(verdict, mismatch)));
    facts.add(
        Fact.of(
            "cycle",
            mismatch.cycle()
                + (verdict.findings().segment() < 0
                    ? " of the kept case"
                    : " of segment " + verdict.findings().segment())));
    facts.add(Fact.of("case", mismatch.caseNumber() < 0 ? "none due" : "" + mismatch.caseNumber()));
    facts.add(Fact.of("expected", range(verdict, mismatch)));
    facts.add(Fact.of("actual", code(verdict, mismatch, mismatch.actual())));
    difference(verdict, mismatch).ifPresent(facts::add);
    inputs(verdict, mismatch).ifPresent(facts::add);
    facts.add(
        Fact.of(
            "mismatches",
            verdict.mismatches()
                + (verdict.mismatches() == 1 ? " row" : " rows")
                + " in this segment"));
    List<String> others =
        verdict.kept().stream()
            .skip(1)
            .map(
                other ->
                    String.format(
                        Locale.ROOT,
                        "cycle %d, %s: %s",
                        other.cycle(),
                        other.signal(),
                        other.words()))
            .toList();
    if (!others.isEmpty()) {
      facts.add(new Fact("also", others));
    }
  }

  /** In LSB where there are fraction bits, as a plain number where not; none of a flag. */
  private static Optional<Fact> difference(Verdict verdict, Mismatch mismatch) {
    BigInteger difference = mismatch.difference();
    if (mismatch.output().isEmpty() || difference.signum() == 0) {
      return Optional.empty();
    }
    Format format =
        verdict.findings().layout().outputs().get(mismatch.output().getAsInt()).format();
    String unit = format.fractionBits() == 0 ? "" : " LSB";
    String sign = difference.signum() > 0 ? "+" : "";
    return format.width() == 1
        ? Optional.empty()
        : Optional.of(Fact.of("difference", sign + difference + unit));
  }

  private static Optional<Fact> inputs(Verdict verdict, Mismatch mismatch) {
    return verdict.rows().stream()
        .filter(row -> row.caseIn() >= 0 && row.caseIn() == mismatch.caseNumber())
        .filter(row -> !row.inputs().isEmpty())
        .findFirst()
        .map(row -> Fact.inputs(verdict.findings().layout().inputs(), row));
  }

  private static String signal(Verdict verdict, Mismatch mismatch) {
    return mismatch.output().isEmpty()
        ? mismatch.signal()
        : mismatch.signal()
            + ", "
            + verdict.findings().layout().outputs().get(mismatch.output().getAsInt()).meaning();
  }

  /** What was allowed: one code, or the lowest and the highest. */
  static String range(Verdict verdict, Mismatch mismatch) {
    String low = code(verdict, mismatch, mismatch.low());
    return mismatch.low().equals(mismatch.high())
        ? low
        : low + "  to  " + code(verdict, mismatch, mismatch.high());
  }

  static String code(Verdict verdict, Mismatch mismatch, BigInteger code) {
    if (mismatch.output().isEmpty()) {
      return code.toString();
    }
    return CodeText.both(
        verdict.findings().layout().outputs().get(mismatch.output().getAsInt()), code);
  }
}
