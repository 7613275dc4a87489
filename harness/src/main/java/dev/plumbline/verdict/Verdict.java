package dev.plumbline.verdict;

import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import org.opentest4j.AssertionFailedError;

/**
 * What a bench found. Everything but the seconds follows from the seed, whatever the number of
 * threads.
 *
 * @param bench the bench's name
 * @param outcome the verdict in one word
 * @param explanation for other outcomes than pass and mismatch, what happened; else empty
 * @param checked how much was checked, and how sharply
 * @param origin what it follows from
 * @param findings what was found of a mismatch
 * @param evidenceFolder the folder with the evidence, once it is written
 * @param pictures that show something of it; mostly none
 */
public record Verdict(
    String bench,
    Outcome outcome,
    String explanation,
    Checked checked,
    Origin origin,
    Findings findings,
    Optional<Path> evidenceFolder,
    List<ShownPicture> pictures) {

  public Verdict {
    pictures = List.copyOf(pictures);
  }

  /**
   * A verdict of which nothing is kept yet.
   *
   * @param bench the bench's name
   * @param outcome the verdict in one word
   * @param explanation for other outcomes than pass and mismatch, what happened; else empty
   * @param checked how much was checked, and how sharply
   * @param origin what it follows from
   * @param findings what was found of a mismatch
   * @return a verdict without evidence folder and pictures
   */
  public static Verdict of(
      String bench,
      Outcome outcome,
      String explanation,
      Checked checked,
      Origin origin,
      Findings findings) {
    return new Verdict(
        bench, outcome, explanation, checked, origin, findings, Optional.empty(), List.of());
  }

  /** The verdict in one word. */
  public enum Outcome {
    /** Every result that was due came in time and was right. */
    PASS("pass"),
    /** Something differs. */
    MISMATCH("mismatch"),
    /** Nothing differs because nothing, or not every output, was ever compared. */
    NOTHING_CHECKED("nothing checked"),
    /** Nothing differs, but a coverage point that the bench declares never came up. */
    NOT_REACHED("coverage point not reached"),
    /** It passed before, and nothing that bears on it has changed since; it was not run. */
    UNCHANGED("unchanged"),
    /** The DUT ended, failed or hung by itself. */
    DUT_ENDED("DUT ended");

    private final String words;

    Outcome(String words) {
      this.words = words;
    }

    @Override
    public String toString() {
      return words;
    }
  }

  /**
   * How one output was compared.
   *
   * @param output the output's name
   * @param format its format, such as s16.16; empty where it is not known
   * @param compared how many results counted for it
   * @param medianWidth the middle width of the allowed ranges, in LSB, from one result in sixteen;
   *     -1 where one code only was allowed
   * @param worstWidth the widest, in LSB; -1 where one code only was allowed
   * @param smallestError the smallest error, in LSB, that half of the results or more would have
   *     shown, whichever way it went: added to a result or taken from it, it leaves the allowed
   *     range. Exact up to 1,023, then rounded up by at most one part in 32, from one result in
   *     sixteen; {@link #NEVER} where more than half were open; -1 where nothing was compared
   * @param open results whose allowed range took in more than half of all codes, so that there was
   *     nothing to judge by; of a bit, those that might be either
   */
  public record Bounds(
      String output,
      String format,
      long compared,
      long medianWidth,
      long worstWidth,
      long smallestError,
      long open) {
    /** An error of any size would have passed. */
    public static final long NEVER = Long.MAX_VALUE;

    /** Refuses what lacks a part, as a ledger that somebody has changed may. */
    public Bounds {
      Objects.requireNonNull(output, "output");
      Objects.requireNonNull(format, "format");
    }

    /**
     * Whether the output is a single bit.
     *
     * @return true for format u1.0
     */
    public boolean isDecision() {
      return format.equals("u1.0");
    }

    /**
     * The share of results that were open.
     *
     * @return 0 to 1; 0 where nothing was compared
     */
    public double openShare() {
      return compared == 0 ? 0 : (double) open / compared;
    }

    /**
     * What errors would have been seen, in words.
     *
     * @return such as {@code 64 LSB}, {@code never} or, of a bit, {@code decided in 99.81 %}
     */
    public String seen() {
      if (isDecision()) {
        return "decided in " + percent(1 - openShare());
      }
      return smallestError == NEVER ? "never" : smallestError < 0 ? "" : smallestError + " LSB";
    }

    private static String percent(double share) {
      double down = Math.floor(share * 10_000) / 100; // 100 % says that all were
      return String.format(Locale.ROOT, down == Math.rint(down) ? "%.0f %%" : "%.2f %%", down);
    }
  }

  /**
   * How often a coverage point was met.
   *
   * @param name what it is called
   * @param met by how many cases, up to the end of the first segment with a mismatch; behind the
   *     first 131,072 of a run whose cases are drawn by chance, sixteen times as many as in a
   *     sixteenth of them
   */
  public record CoveragePoint(String name, long met) {}

  /**
   * Whether all is well.
   *
   * @return true for {@link Outcome#PASS} and {@link Outcome#UNCHANGED}
   */
  public boolean isPass() {
    return outcome == Outcome.PASS || outcome == Outcome.UNCHANGED;
  }

  /**
   * The results that were compared, up to the end of the first segment with a mismatch.
   *
   * @return those of {@link #checked}
   */
  public long cases() {
    return checked.cases();
  }

  /**
   * The cycles that were run, resets included.
   *
   * @return those of {@link #checked}
   */
  public long cycles() {
    return checked.cycles();
  }

  /**
   * How each output was compared.
   *
   * @return what {@link #checked} has
   */
  public List<Bounds> bounds() {
    return checked.bounds();
  }

  /**
   * The rows that mismatch in the first segment with a mismatch.
   *
   * @return their number, as {@link #findings} has it
   */
  public long mismatches() {
    return findings.mismatches();
  }

  /**
   * The first mismatches, explained.
   *
   * @return those of {@link #findings}
   */
  public List<Mismatch> kept() {
    return findings.kept();
  }

  /**
   * The mismatches, those that are alike together.
   *
   * @return those of {@link #findings}
   */
  public List<MismatchGroup> groups() {
    return findings.groups();
  }

  /**
   * The recorded rows around the kept mismatches.
   *
   * @return those of {@link #findings}, by cycle
   */
  public List<Row> rows() {
    return findings.rows();
  }

  /**
   * The first mismatch.
   *
   * @return empty when there is none
   */
  public Optional<Mismatch> first() {
    return kept().stream().findFirst();
  }

  /**
   * The cycles driven in a second.
   *
   * @return a rate, or 0 when no time passed
   */
  public double cyclesPerSecond() {
    return checked.seconds() > 0 ? cycles() / checked.seconds() : 0;
  }

  /**
   * The facts, one a line.
   *
   * @return text without a trailing line break
   */
  public String facts() {
    return VerdictText.of(this);
  }

  /**
   * The facts in at most twenty lines: where there are more, and an evidence folder has them, the
   * longest facts are cut.
   *
   * @return text without a trailing line break
   */
  public String brief() {
    return VerdictText.brief(this);
  }

  /**
   * Fails unless all is well.
   *
   * @return this verdict, when it is a pass
   * @throws AssertionFailedError with the facts; a mismatch carries expected and actual
   */
  public Verdict orFail() {
    if (isPass()) {
      return this;
    }
    if (kept().isEmpty()) {
      throw new AssertionFailedError(brief());
    }
    Mismatch mismatch = kept().get(0);
    throw new AssertionFailedError(
        brief(),
        VerdictText.range(this, mismatch),
        VerdictText.code(this, mismatch, mismatch.actual()));
  }

  /**
   * The same verdict with its evidence written.
   *
   * @param folder where
   * @return a copy
   */
  public Verdict withEvidenceFolder(Path folder) {
    return with(explanation, Optional.of(folder), pictures);
  }

  /**
   * The same verdict with a line below what it explains.
   *
   * @param remark the line
   * @return a copy
   */
  public Verdict withRemark(String remark) {
    return with(
        explanation.isEmpty() ? remark : explanation + System.lineSeparator() + remark,
        evidenceFolder,
        pictures);
  }

  /**
   * The same verdict with pictures.
   *
   * @param shown what is to be kept and shown with it, in that order
   * @return a copy
   */
  public Verdict withPictures(List<ShownPicture> shown) {
    return with(explanation, evidenceFolder, shown);
  }

  private Verdict with(
      String newExplanation, Optional<Path> newFolder, List<ShownPicture> newPictures) {
    return new Verdict(
        bench, outcome, newExplanation, checked, origin, findings, newFolder, newPictures);
  }

  /**
   * The kept row of a cycle.
   *
   * @param cycle of the segment
   * @return the row; empty where it was not kept
   */
  public Optional<Row> row(long cycle) {
    return rows().stream().filter(row -> row.cycle() == cycle).findFirst();
  }
}
