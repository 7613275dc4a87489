package dev.plumbline.judge;

import dev.plumbline.drive.OutputCheck;

/** What is known of the results of a stream, by their number modulo the size of the ring. */
final class ResultRing {
  final Expectations expected;
  final long[] acceptedAt; // cycle in which its case was taken
  final long[] stallsAt; // stalls before that
  final long[] caseOf; // the case that it is a result of
  final int[] latency; // where that depends on the case
  final boolean[] gone; // where results come in any order: it has come
  private final OutputCheck[] checks;

  /** A power of two of entries. */
  ResultRing(OutputCheck[] checks, int entries) {
    this.checks = checks;
    this.expected = new Expectations(checks, entries);
    this.acceptedAt = new long[entries];
    this.stallsAt = new long[entries];
    this.caseOf = new long[entries];
    this.latency = new int[entries];
    this.gone = new boolean[entries];
  }

  int size() {
    return acceptedAt.length;
  }

  int slot(long number) {
    return (int) (number & (acceptedAt.length - 1));
  }

  /** Twice as large, with the results of some numbers. */
  ResultRing twice(long fromNumber, long toNumber) {
    ResultRing larger = new ResultRing(checks, 2 * size());
    for (long n = fromNumber; n < toNumber; n++) {
      int from = slot(n);
      int to = larger.slot(n);
      for (int c = 0; c < checks.length; c++) {
        for (int word = 0; word < checks[c].words(); word++) {
          larger.expected.low[c][word][to] = expected.low[c][word][from];
          larger.expected.high[c][word][to] = expected.high[c][word][from];
        }
        if (expected.middle[c] != null) {
          larger.expected.middle[c][to] = expected.middle[c][from];
        }
      }
      larger.acceptedAt[to] = acceptedAt[from];
      larger.stallsAt[to] = stallsAt[from];
      larger.caseOf[to] = caseOf[from];
      larger.latency[to] = latency[from];
      larger.gone[to] = gone[from];
    }
    return larger;
  }
}
