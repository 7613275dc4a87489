package dev.plumbline.models.unit;

/**
 * The first guess of a reciprocal: for each slice of [1/2, 1) the reciprocal of its middle.
 *
 * <p>Das Sarma and Matula, "Measuring the Accuracy of ROM Reciprocal Tables", IEEE Transactions on
 * Computers 43(8), 1994: with k index bits and k + g fraction bits of the entry the relative error
 * is at most 2^-(k+1) (1 + 2^-(g+1)).
 */
final class MidpointTable {
  private MidpointTable() {}

  /**
   * The entries for the slices [(2^k + i) / 2^(k+1), (2^k + i + 1) / 2^(k+1)), rounded to nearest.
   *
   * @param indexBits k
   * @param fractionBits fraction bits of an entry, whose value lies in [1, 2)
   */
  static long[] reciprocals(int indexBits, int fractionBits) {
    int slices = 1 << indexBits;
    long[] entries = new long[slices];
    for (int i = 0; i < slices; i++) {
      long twiceMiddle = 2L * (slices + i) + 1; // the middle is this over 2^(k+2)
      long one = 1L << (indexBits + 2 + fractionBits);
      entries[i] = (2 * one + twiceMiddle) / (2 * twiceMiddle);
    }
    return entries;
  }
}
