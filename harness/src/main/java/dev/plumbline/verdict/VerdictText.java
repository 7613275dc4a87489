package dev.plumbline.verdict;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.text.PlainText;
import java.math.BigInteger;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** The facts of a verdict as aligned lines. */
final class VerdictText {
  private static final int MOST_TEXT = 2_000;

  private VerdictText() {}

  static String of(Verdict verdict) {
    StringBuilder text = new StringBuilder(verdict.bench()).append(": ");
    switch (verdict.outcome()) {
      case PASS -> text.append("pass");
      case MISMATCH -> mismatch(text, verdict);
      case NOTHING_CHECKED ->
          text.append("the check could not judge, since ").append(verdict.explanation());
      case NOT_REACHED ->
          text.append("nothing differs, but the cases not reached: ").append(verdict.explanation());
      case DUT_ENDED -> text.append("the DUT ended by itself: ").append(verdict.explanation());
    }
    line(
        text,
        "checked",
        String.format(Locale.ROOT, "%d cases in %d cycles", verdict.cases(), verdict.cycles()));
    line(text, "seed", Long.toString(verdict.seed()));
    verdict.evidenceFolder().ifPresent(folder -> line(text, "folder", folder.toString()));
    if (!verdict.isPass() && !verdict.repeat().isEmpty()) {
      line(text, "repeat", verdict.repeat());
    }
    if (!verdict.text().isEmpty()) {
      String printed = verdict.text().strip();
      boolean cut = printed.length() > MOST_TEXT;
      line(
          text,
          "printed",
          (cut ? printed.substring(0, MOST_TEXT) + " ..." : printed)
              .replace("\n", "\n" + " ".repeat(13)));
    }
    return PlainText.lines(text.toString());
  }

  private static void mismatch(StringBuilder text, Verdict verdict) {
    Mismatch mismatch = verdict.kept().get(0);
    text.append(mismatch.words());
    if (mismatch.kind() == Mismatch.Kind.INITIAL_STATE_SHOWS) {
      text.append(" (reset does not reach everything)");
    }
    line(text, "signal", signal(verdict, mismatch));
    line(text, "cycle", mismatch.cycle() + " of segment " + verdict.segment());
    line(text, "case", mismatch.caseNumber() < 0 ? "none due" : "" + mismatch.caseNumber());
    line(text, "expected", range(verdict, mismatch));
    line(text, "actual", code(verdict, mismatch, mismatch.actual()));
    if (mismatch.output().isPresent() && mismatch.difference().signum() != 0) {
      BigInteger difference = mismatch.difference();
      line(
          text,
          "difference",
          (difference.signum() > 0 ? "+" : "")
              + difference
              + (difference.abs().equals(BigInteger.ONE) ? " LSB" : " LSBs"));
    }
    inputs(text, verdict, mismatch);
    line(
        text,
        "mismatches",
        verdict.mismatches() + (verdict.mismatches() == 1 ? " row" : " rows") + " in this segment");
    List<Mismatch> others = verdict.kept().subList(1, verdict.kept().size());
    for (Mismatch other : others) {
      line(
          text,
          "also",
          String.format(
              Locale.ROOT, "cycle %d, %s: %s", other.cycle(), other.signal(), other.words()));
    }
    if (!verdict.explanation().isEmpty()) {
      text.append(System.lineSeparator()).append(verdict.explanation());
    }
  }

  private static void inputs(StringBuilder text, Verdict verdict, Mismatch mismatch) {
    Optional<Row> given =
        verdict.rows().stream()
            .filter(row -> row.caseIn() >= 0 && row.caseIn() == mismatch.caseNumber())
            .filter(row -> !row.inputs().isEmpty())
            .findFirst();
    if (given.isEmpty()) {
      return;
    }
    List<Operand> operands = verdict.layout().inputs();
    String label = "inputs";
    for (int i = 0; i < operands.size(); i++) {
      Operand operand = operands.get(i);
      BigInteger code = given.get().inputs().get(i);
      line(
          text,
          label,
          operand.name()
              + " = "
              + CodeText.hex(operand.format(), code)
              + "  "
              + CodeText.real(operand.format(), code));
      label = "";
    }
  }

  private static String signal(Verdict verdict, Mismatch mismatch) {
    return mismatch.output().isEmpty()
        ? mismatch.signal()
        : mismatch.signal()
            + ", "
            + verdict.layout().outputs().get(mismatch.output().getAsInt()).format();
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
    Operand operand = verdict.layout().outputs().get(mismatch.output().getAsInt());
    return CodeText.hex(operand.format(), code) + "  " + CodeText.real(operand.format(), code);
  }

  private static void line(StringBuilder text, String label, String fact) {
    text.append(System.lineSeparator())
        .append("  ")
        .append(String.format(Locale.ROOT, "%-11s", label))
        .append(fact);
  }
}
