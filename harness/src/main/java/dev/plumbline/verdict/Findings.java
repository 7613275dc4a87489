package dev.plumbline.verdict;

import java.util.List;

/**
 * What was found of the first segment with a mismatch, or of the one in which the DUT ended.
 *
 * @param segment the number of that segment; -1 where there is none, or it is a kept case
 * @param mismatches rows that mismatch in it
 * @param kept the first of them, explained
 * @param layout what the rows show
 * @param rows recorded rows around the kept mismatches, by cycle
 * @param details what there is to report beyond signal, cycle, case, codes and inputs
 * @param groups the mismatches of the segment, those that are alike together
 * @param text what the DUT printed in the segment
 * @param inside what was seen inside the DUT
 */
public record Findings(
    long segment,
    long mismatches,
    List<Mismatch> kept,
    Layout layout,
    List<Row> rows,
    List<Fact> details,
    List<MismatchGroup> groups,
    String text,
    Inside inside) {

  /** Nothing was found, of rows that show nothing. */
  public static final Findings NOTHING = nothing(Layout.NOTHING, Inside.NOTHING);

  public Findings {
    kept = List.copyOf(kept);
    rows = List.copyOf(rows);
    details = List.copyOf(details);
    groups = List.copyOf(groups);
  }

  /**
   * No mismatch was found.
   *
   * @param layout what rows would have shown
   * @param inside what was seen inside the DUT all the same
   * @return findings without a segment
   */
  public static Findings nothing(Layout layout, Inside inside) {
    return new Findings(-1, 0, List.of(), layout, List.of(), List.of(), List.of(), "", inside);
  }
}
