package dev.plumbline.contract;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import java.util.Arrays;
import java.util.List;

/** Columns of operands, for references that go case by case: each case as words in a row. */
final class CaseColumns {
  final long[][][] columns; // operand, word
  private final Format[] formats;
  private final int words;

  CaseColumns(List<Operand> operands, int capacity) {
    this.formats = operands.stream().map(Operand::format).toArray(Format[]::new);
    this.words = Arrays.stream(formats).mapToInt(Format::words).sum();
    this.columns =
        Arrays.stream(formats)
            .map(format -> new long[format.words()][capacity])
            .toArray(long[][][]::new);
  }

  /** Words of a case. */
  int words() {
    return words;
  }

  int capacity() {
    return columns[0][0].length;
  }

  /** Makes room for more; the arrays are others then. */
  void grow(int capacity) {
    for (long[][] column : columns) {
      for (int word = 0; word < column.length; word++) {
        column[word] = Arrays.copyOf(column[word], capacity);
      }
    }
  }

  void gather(int row, long[] into) {
    int at = 0;
    for (long[][] column : columns) {
      for (long[] word : column) {
        into[at++] = word[row];
      }
    }
  }

  /** Puts the words of a case into a row, without bits beyond the formats. */
  void scatter(long[] from, int row) {
    int at = 0;
    for (int o = 0; o < columns.length; o++) {
      int last = columns[o].length - 1;
      for (int word = 0; word < last; word++) {
        columns[o][word][row] = from[at++];
      }
      int drop = 64 * (last + 1) - formats[o].width();
      long shifted = from[at++] << drop;
      columns[o][last][row] = formats[o].signed() ? shifted >> drop : shifted >>> drop;
    }
  }

  /** Whether a row holds what a row of others of the same operands holds. */
  boolean isSame(int row, CaseColumns others, int otherRow) {
    for (int o = 0; o < columns.length; o++) {
      for (int word = 0; word < columns[o].length; word++) {
        if (columns[o][word][row] != others.columns[o][word][otherRow]) {
          return false;
        }
      }
    }
    return true;
  }
}
