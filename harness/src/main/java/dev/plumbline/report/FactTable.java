package dev.plumbline.report;

import java.util.List;

/**
 * A small table of the page: stages with what they expected and had, cycles against their budget,
 * lines of RTL.
 *
 * @param title what it shows
 * @param headings of its columns
 * @param rows cells as text, one a column
 * @param marked which row stands off; -1 for none
 */
record FactTable(String title, List<String> headings, List<List<String>> rows, int marked) {
  FactTable {
    headings = List.copyOf(headings);
    rows = rows.stream().map(List::copyOf).toList();
  }
}
