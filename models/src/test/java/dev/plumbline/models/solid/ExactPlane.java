package dev.plumbline.models.solid;

import java.math.BigInteger;

/**
 * One ray and half-space in exact integers, and what the declared precision leaves of them; shares
 * nothing with the model.
 *
 * <p>The height has F + DF fraction bits, the slope 2 DF. Declared are: either the exact height and
 * a slope rounded once to F bits, whichever way; or, budgeted, every product rounded once to F
 * bits, whichever way. An inverse is within one LSB of F bits.
 */
final class ExactPlane {
  private final PlaneFormats formats;
  private final long[] row;
  private final boolean budgeted;

  final BigInteger height;
  final BigInteger slope;
  private final BigInteger heightLow;
  private final BigInteger heightHigh;
  private final BigInteger slopeLow;
  private final BigInteger slopeHigh;

  ExactPlane(PlaneFormats formats, long[][] columns, int i, boolean budgeted) {
    this(formats, row(columns, i), budgeted);
  }

  private ExactPlane(PlaneFormats formats, long[] row, boolean budgeted) {
    this.formats = formats;
    this.row = row;
    this.budgeted = budgeted;
    int fine = formats.direction.fractionBits();
    int word = formats.word.fractionBits();
    BigInteger level = big(row[9]);
    height = level.shiftLeft(fine).subtract(dot(0));
    slope = dot(3);
    // Both at F bits for comparison: height ends exact, or products rounded.
    heightLow = budgeted ? level.subtract(rounded(0, fine, true)).shiftLeft(fine) : height;
    heightHigh = budgeted ? level.subtract(rounded(0, fine, false)).shiftLeft(fine) : height;
    int drop = 2 * fine - word;
    slopeLow = budgeted ? rounded(3, drop, false) : shift(slope, drop, false);
    slopeHigh = budgeted ? rounded(3, drop, true) : shift(slope, drop, true);
  }

  private static long[] row(long[][] columns, int i) {
    long[] row = new long[columns.length];
    for (int k = 0; k < row.length; k++) {
      row[k] = columns[k][i];
    }
    return row;
  }

  private static BigInteger big(long code) {
    return BigInteger.valueOf(code);
  }

  private BigInteger product(int from, int axis) {
    return big(row[from + axis]).multiply(big(row[6 + axis]));
  }

  private BigInteger dot(int from) {
    return product(from, 0).add(product(from, 1)).add(product(from, 2));
  }

  private BigInteger rounded(int from, int drop, boolean up) {
    BigInteger sum = BigInteger.ZERO;
    for (int axis = 0; axis < 3; axis++) {
      sum = sum.add(shift(product(from, axis), drop, up));
    }
    return sum;
  }

  private static BigInteger shift(BigInteger code, int drop, boolean up) {
    return up ? code.negate().shiftRight(drop).negate() : code.shiftRight(drop);
  }

  boolean heightDecided() {
    return heightLow.signum() >= 0 || heightHigh.signum() < 0;
  }

  boolean inside() {
    return height.signum() >= 0;
  }

  boolean slopeDecided() {
    return slopeLow.signum() > 0
        || slopeHigh.signum() < 0
        || (slopeLow.signum() == 0 && slopeHigh.signum() == 0);
  }

  boolean mustHit() {
    return heightLow.signum() >= 0 || slopeHigh.signum() < 0;
  }

  /** Outside, and the plane at least one LSB behind however it is rounded. */
  boolean mustMiss() {
    if (heightHigh.signum() >= 0 || slopeLow.signum() < 0) {
      return false;
    }
    return slopeHigh.signum() == 0
        || leastHeight() * leastInverse() >= formats.word.lsbs() * (1 + 1e-9);
  }

  /** The farthest apart that two distances of the declared precision can be, in LSB. */
  double widest() {
    double most = mostHeight() * mostInverse();
    double least = leastHeight() * leastInverse();
    return Math.ceil((most - least) / formats.word.lsbs() * (1 + 1e-9)) + 2;
  }

  private double leastHeight() {
    double nearer = Math.min(real(heightLow), real(heightHigh));
    return Math.max(0, nearer - depthPlace());
  }

  private double mostHeight() {
    return Math.max(real(heightLow), real(heightHigh)) + depthPlace();
  }

  private double real(BigInteger heightCode) {
    return Math.scalb(
        heightCode.abs().doubleValue(),
        -formats.word.fractionBits() - formats.direction.fractionBits());
  }

  /** The declared architecture rounds the height to four more bits; a budget did so before. */
  private double depthPlace() {
    boolean exact = budgeted || formats.direction.fractionBits() <= 4;
    return exact ? 0 : formats.word.lsbs() / 16;
  }

  private double leastInverse() {
    double place = formats.word.lsbs();
    double inverse = 1 / (slopeLow.abs().max(slopeHigh.abs()).doubleValue() * place);
    return Math.max(0, Math.min(inverse, greatestWord()) - place);
  }

  private double mostInverse() {
    double place = formats.word.lsbs();
    double inverse = 1 / (slopeLow.abs().min(slopeHigh.abs()).doubleValue() * place);
    return (budgeted ? inverse : Math.min(inverse, greatestWord() + place)) + place;
  }

  private double greatestWord() {
    return formats.word.toReal(formats.word.maxCode());
  }

  /** How steep and how far. */
  String kind() {
    double steep = Math.abs(Math.scalb(slope.doubleValue(), -2 * formats.direction.fractionBits()));
    double far = real(height);
    return (steep >= .5 ? "steep" : steep >= 1.0 / 32 ? "slanting" : "grazing")
        + (far <= 1 ? ", within 1" : far <= 32 ? ", within 32" : ", farther");
  }

  @Override
  public String toString() {
    return formats
        + " row "
        + java.util.Arrays.toString(row)
        + " height "
        + heightLow
        + " to "
        + heightHigh
        + " slope "
        + slopeLow
        + " to "
        + slopeHigh;
  }
}
