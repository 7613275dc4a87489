package dev.plumbline.drive;

import dev.plumbline.stimulus.RandomStream;

/**
 * The rows of a block without a case, and how far into a stream of noise each of them is: the same
 * for every operand, so told once.
 */
final class IdleRows {
  int[] rows; // their numbers in the block
  int count;
  int of; // rows of the block
  final long[] whole; // what the draws before add to a stream's state where each row takes one
  final long[] half; // the same where two rows take one
  final long[] shifts; // to the left, of the upper half of a draw and of the lower one
  final long[] drawn; // to work in
  private long first; // number of the block's first row

  /**
   * @param most rows of a block
   */
  IdleRows(int most) {
    whole = new long[most];
    half = new long[most];
    shifts = new long[most];
    drawn = new long[most];
  }

  /**
   * Takes the next block.
   *
   * @param idle the numbers of its rows without a case
   * @param many how many they are
   * @param span rows of the block
   */
  void next(int[] idle, int many, int span) {
    first += of;
    rows = idle;
    count = many;
    of = span;
    for (int i = 0; i < many; i++) {
      long number = first + idle[i];
      whole[i] = number * RandomStream.STEP;
      half[i] = (number >>> 1) * RandomStream.STEP;
      shifts[i] = number << 5 & 32;
    }
  }
}
