package dev.plumbline.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.verdict.Verdict;
import dev.plumbline.verdict.Verdict.CoveragePoint;
import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ComparisonTest {
  /** Rates of seven nights: their median is 1,000, their median absolute deviation 20. */
  private static final int[] RATES = {1000, 1010, 980, 1030, 970, 1020, 960};

  @TempDir private Path reports;

  /** 100,000 cycles at those rates, each night with a seed of its own. */
  @BeforeEach
  void nights() throws IOException {
    for (int night = 0; night < RATES.length; night++) {
      History.add(
          reports, HistoryRow.of("night-" + night, "", entry(RATES[night], 100_000, night)));
    }
  }

  private static LedgerEntry entry(double rate, long cycles, long seed, CoveragePoint... points) {
    return entry(90_000, rate, cycles, seed, points);
  }

  /** A cycle a case. */
  private static LedgerEntry ofCases(long cases, CoveragePoint... points) {
    return entry(cases, 1000, cases, 1, points);
  }

  private static LedgerEntry entry(
      long cases, double rate, long cycles, long seed, CoveragePoint... points) {
    return new LedgerEntry(
        "moon",
        Verdict.Outcome.PASS,
        cases,
        cycles,
        0,
        -1,
        -1,
        "",
        cycles / rate,
        rate,
        seed,
        "0",
        List.of(),
        List.of(points),
        "",
        "",
        null,
        List.of(),
        List.of(),
        List.of(),
        List.of());
  }

  private List<String> said(LedgerEntry now) throws IOException {
    return Comparison.of("today", List.of(now), History.read(reports)).changes().stream()
        .map(change -> change.kind() + ": " + change.words())
        .toList();
  }

  /** Five spreads of 1.4826 times 20 are 148.26. */
  @Test
  void slowerIsWhatLiesBeyondTheNoiseOfEarlierRuns() throws IOException {
    assertEquals(List.of(), said(entry(853, 100_000, 99)));
    assertEquals(
        List.of("slower: 850 cycles a second, usually 1000 give or take 148"),
        said(entry(850, 100_000, 99)));
    assertEquals(List.of(), said(entry(9_000, 100_000, 99)), "faster is no matter");
  }

  @Test
  void theSameCasesMayNotTakeOneCycleMore() throws IOException {
    assertEquals(
        List.of("more cycles: 100001 where there were 100000"), said(entry(1000, 100_001, 6)));
    assertEquals(List.of(), said(entry(1000, 100_001, 99)), "of others two parts in a hundred may");
    assertEquals(
        List.of("more cycles: 1.144 a case, usually 1.111 give or take 0.022"),
        said(entry(1000, 103_000, 99)));
  }

  @Test
  void coveragePointsThatAreMetNoMoreAreNamed() throws IOException {
    CoveragePoint near = new CoveragePoint("near", 9);
    History.add(
        reports,
        HistoryRow.of("night-7", "", entry(1000, 100_000, 7, near, new CoveragePoint("far", 1))));
    assertEquals(
        List.of("coverage lost: far"),
        said(entry(1000, 100_000, 99, near, new CoveragePoint("far", 0))));
    assertEquals(
        List.of("coverage lost: 1 points where there were 2"),
        said(entry(1000, 100_000, 99, near)));
  }

  @Test
  void aShortNightLosesNoCoverageToALongOneNorARarePointToChance() throws IOException {
    CoveragePoint near = new CoveragePoint("near", 9);
    CoveragePoint far = new CoveragePoint("far", 1);
    CoveragePoint notFar = new CoveragePoint("far", 0);
    LedgerEntry today = entry(1000, 100_000, 99, near, notFar);
    History.add(reports, HistoryRow.of("long", "", ofCases(900_000, near, far)));
    History.add(reports, HistoryRow.of("short", "", ofCases(9_000, near, far)));
    assertEquals(List.of("coverage lost: far"), said(today), "fewer cases met it");
    History.add(reports, HistoryRow.of("rare", "", ofCases(90_000, near, notFar)));
    History.add(reports, HistoryRow.of("met again", "", ofCases(90_000, near, far)));
    assertEquals(List.of(), said(today), "it was missed before");
  }

  @Test
  void aShortNightAfterLongOnesSaysNothingOfPointsMissed() throws IOException {
    CoveragePoint far = new CoveragePoint("far", 1);
    LedgerEntry today = ofCases(100, new CoveragePoint("far", 0));
    for (int night = 0; night < 3; night++) {
      History.add(reports, HistoryRow.of("long-" + night, "", ofCases(900_000, far)));
    }
    assertEquals(List.of(), said(today));
  }

  @Test
  void whatItIsComparedWithIsSaid() throws IOException {
    Comparison comparison =
        Comparison.of("today", List.of(entry(1000, 100_000, 99)), History.read(reports));
    assertTrue(comparison.isThere());
    assertEquals("Since run night-6, which was green.", comparison.since());
    assertFalse(Comparison.of("today", List.of(), History.read(reports)).isThere());
    assertEquals(7, IntStream.of(RATES).distinct().count());
  }
}
