package dev.plumbline.samples.chip;

/** Formats of words and directions, as the RTL's parameters have them. */
record Formats(int wordBits, int wordFraction, int unitBits, int unitFraction) {
  static final Formats STANDARD = new Formats(32, 16, 18, 16);

  double word(long code) {
    return Math.scalb((double) code, -wordFraction);
  }

  double unit(long code) {
    return Math.scalb((double) code, -unitFraction);
  }

  long wordCode(double value) {
    return saturated(Math.round(Math.scalb(value, wordFraction)), wordBits);
  }

  long unitCode(double value) {
    return saturated(Math.round(Math.scalb(value, unitFraction)), unitBits);
  }

  static long saturated(long code, int bits) {
    long largest = (1L << bits - 1) - 1;
    return Math.max(-largest - 1, Math.min(largest, code));
  }

  String[] parameters(boolean normalised) {
    return new String[] {
      "W=" + wordBits,
      "F=" + wordFraction,
      "DW=" + unitBits,
      "DF=" + unitFraction,
      "NORMALISE=" + (normalised ? 1 : 0)
    };
  }
}
