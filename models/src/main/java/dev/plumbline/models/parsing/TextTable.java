package dev.plumbline.models.parsing;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;

/**
 * Rows under headings in aligned columns, for people.
 *
 * <pre>{@code
 * TextTable table = new TextTable("bench", "cycles").right(1);
 * table.add("moon", "1201");
 * String text = String.join("\n", table.lines());
 * }</pre>
 *
 * <p>Columns stand two spaces apart; one that is empty in every row is left out.
 */
public final class TextTable {
  private final List<String> headings;
  private final List<List<String>> rows = new ArrayList<>();
  private final Set<Integer> right = new HashSet<>();

  /**
   * Starts a table.
   *
   * @param headings of the columns
   */
  public TextTable(String... headings) {
    this.headings = List.of(headings);
  }

  /**
   * Sets columns to the right, as numbers stand.
   *
   * @param columns their numbers, counted from 0
   * @return this table
   */
  public TextTable right(int... columns) {
    for (int column : columns) {
      right.add(column);
    }
    return this;
  }

  /**
   * Adds a row.
   *
   * @param cells one for each heading, each one line
   * @throws IllegalArgumentException when their number is another
   */
  public void add(String... cells) {
    if (cells.length != headings.size()) {
      throw new IllegalArgumentException(
          "A row of "
              + cells.length
              + " cells does not fit a table of "
              + headings.size()
              + " columns; give one cell a column.");
    }
    rows.add(List.of(cells));
  }

  /**
   * The headings.
   *
   * @return one a column
   */
  public List<String> headings() {
    return headings;
  }

  /**
   * The rows under the headings.
   *
   * @return their cells, in the order in which they were added
   */
  public List<List<String>> rows() {
    return List.copyOf(rows);
  }

  /**
   * The table as lines, the headings first.
   *
   * @return lines without space at their ends
   */
  public List<String> lines() {
    int[] widths = new int[headings.size()];
    for (int column = 0; column < widths.length; column++) {
      for (List<String> row : rows) {
        widths[column] = Math.max(widths[column], row.get(column).length());
      }
      if (widths[column] > 0) {
        widths[column] = Math.max(widths[column], headings.get(column).length());
      }
    }
    List<String> lines = new ArrayList<>();
    lines.add(line(headings, widths));
    rows.forEach(row -> lines.add(line(row, widths)));
    return lines;
  }

  private String line(List<String> cells, int[] widths) {
    StringBuilder line = new StringBuilder();
    for (int column = 0; column < widths.length; column++) {
      if (widths[column] > 0) {
        String cell = cells.get(column);
        String pad = " ".repeat(widths[column] - cell.length());
        line.append(right.contains(column) ? pad + cell : cell + pad).append("  ");
      }
    }
    return line.toString().stripTrailing();
  }
}
