package dev.plumbline.verdict;

/** Verdicts that two runs should agree on, but for how long they took. */
public final class TimelessVerdict {
  private TimelessVerdict() {}

  /** The same in no time. */
  public static Verdict of(Verdict v) {
    Checked checked = v.checked();
    return new Verdict(
        v.bench(),
        v.outcome(),
        v.explanation(),
        new Checked(
            checked.cases(),
            checked.cycles(),
            0,
            checked.bounds(),
            checked.deviations(),
            checked.coverage()),
        v.origin(),
        v.findings(),
        v.evidenceFolder(),
        v.pictures());
  }
}
