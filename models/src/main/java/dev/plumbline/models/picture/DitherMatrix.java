package dev.plumbline.models.picture;

import java.util.Arrays;

/**
 * A matrix of ranks for ordered dither; the cell of a pixel is {@code [y mod rows][x mod columns]},
 * row index first.
 *
 * <pre>{@code
 * DitherMatrix eight = DitherMatrix.bayer(3);                      // 8 x 8, ranks 0 to 63
 * DitherMatrix own = DitherMatrix.of(2, new int[][] {{0, 1}, {1, 0}});
 * }</pre>
 */
public final class DitherMatrix {
  private static final int MAX_SIDE = 64;
  private static final int MAX_BAYER = 6;

  private final int ranks;
  private final int[][] cells;

  private DitherMatrix(int ranks, int[][] cells) {
    this.ranks = ranks;
    this.cells = cells;
  }

  /**
   * The recursive matrix of B. Bayer (IEEE International Conference on Communications, 1973): from
   * M, four times the side: {@code [4M, 4M+2; 4M+3, 4M+1]}. Its transpose is as often printed.
   *
   * @param order log2 of the side, 0 to 6
   * @return a matrix of side {@code 2^order} with as many ranks as cells
   * @throws IllegalArgumentException for another order
   */
  public static DitherMatrix bayer(int order) {
    if (order < 0 || order > MAX_BAYER) {
      throw new IllegalArgumentException(
          "Dither matrix of order \"" + order + "\": it has to be 0 to " + MAX_BAYER + ".");
    }
    int[][] cells = {{0}};
    for (int k = 0; k < order; k++) {
      int half = cells.length;
      int[][] next = new int[2 * half][2 * half];
      for (int row = 0; row < half; row++) {
        for (int column = 0; column < half; column++) {
          int four = 4 * cells[row][column];
          next[row][column] = four;
          next[row][column + half] = four + 2;
          next[row + half][column] = four + 3;
          next[row + half][column + half] = four + 1;
        }
      }
      cells = next;
    }
    return new DitherMatrix(cells.length * cells.length, cells);
  }

  /**
   * Any matrix.
   *
   * @param ranks one more than the highest rank that a cell may have, 1 to 4096
   * @param cells rows of equal length, 1 to 64 of each; ranks from 0
   * @return a matrix
   * @throws IllegalArgumentException when it cannot be
   */
  public static DitherMatrix of(int ranks, int[][] cells) {
    int columns = cells.length == 0 ? 0 : cells[0].length;
    boolean right =
        ranks >= 1
            && ranks <= MAX_SIDE * MAX_SIDE
            && cells.length <= MAX_SIDE
            && columns >= 1
            && columns <= MAX_SIDE;
    int[][] copy = new int[cells.length][];
    for (int row = 0; row < cells.length; row++) {
      copy[row] = cells[row].clone();
      right &= copy[row].length == columns;
      right &= Arrays.stream(copy[row]).allMatch(rank -> rank >= 0 && rank < ranks);
    }
    if (!right) {
      throw new IllegalArgumentException(
          "Dither matrix \""
              + Arrays.deepToString(cells)
              + "\" of "
              + ranks
              + " ranks: it needs 1 to 64 rows of one length of 1 to 64, and ranks from 0 to below"
              + " their number, which is 4096 at most.");
    }
    return new DitherMatrix(ranks, copy);
  }

  /**
   * One more than the highest rank there may be.
   *
   * @return 1 or more
   */
  public int ranks() {
    return ranks;
  }

  /**
   * Rows until the matrix repeats.
   *
   * @return 1 to 64
   */
  public int rows() {
    return cells.length;
  }

  /**
   * Columns until the matrix repeats.
   *
   * @return 1 to 64
   */
  public int columns() {
    return cells[0].length;
  }

  /**
   * The rank of a pixel's cell.
   *
   * @param x 0 or more
   * @param y 0 or more
   * @return 0 to below {@link #ranks}
   */
  public int rank(int x, int y) {
    int[] row = cells[y % cells.length];
    return row[x % row.length];
  }
}
