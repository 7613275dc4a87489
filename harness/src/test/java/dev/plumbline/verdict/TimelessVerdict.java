package dev.plumbline.verdict;

/** Verdicts that two runs should agree on, but for how long they took. */
public final class TimelessVerdict {
  private TimelessVerdict() {}

  /** The same in no time. */
  public static Verdict of(Verdict v) {
    return new Verdict(
        v.bench(),
        v.outcome(),
        v.explanation(),
        v.cases(),
        v.cycles(),
        v.mismatches(),
        v.kept(),
        v.segment(),
        v.layout(),
        v.rows(),
        v.details(),
        v.groups(),
        v.bounds(),
        v.deviations(),
        v.coverage(),
        0,
        v.seed(),
        v.contentHash(),
        v.text(),
        v.repeat(),
        v.evidenceFolder(),
        v.inside());
  }
}
