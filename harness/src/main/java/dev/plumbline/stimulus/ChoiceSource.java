package dev.plumbline.stimulus;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;
import java.util.Arrays;
import java.util.List;

/** Draws from a table of codes. */
final class ChoiceSource implements Generator.Source {
  private static final int LARGEST_TABLE = 1 << 20;

  private final RandomStream stream;
  private final long[][] table;
  private final int size;

  ChoiceSource(Format format, List<BigInteger> codes, long seed) {
    this(table(format, codes), seed);
  }

  /**
   * @param table codes by word and number; it is not written to
   */
  ChoiceSource(long[][] table, long seed) {
    this.stream = RandomStream.of(seed);
    this.size = table[0].length;
    this.table = table;
  }

  static long[][] table(Format format, List<BigInteger> codes) {
    long[][] table = new long[format.words()][codes.size()];
    for (int i = 0; i < codes.size(); i++) {
      long[] code = format.toWords(codes.get(i));
      for (int word = 0; word < table.length; word++) {
        table[word][i] = code[word];
      }
    }
    return table;
  }

  static Generator ofCodes(long... codes) {
    requireSome(codes.length);
    List<BigInteger> list = Arrays.stream(codes).mapToObj(BigInteger::valueOf).toList();
    return (format, seed) -> new ChoiceSource(format, list, seed);
  }

  static Generator ofValues(double... values) {
    requireSome(values.length);
    double[] copy = values.clone();
    return (format, seed) ->
        new ChoiceSource(
            format,
            Arrays.stream(copy).mapToObj(value -> CodeWords.exact(format, value)).toList(),
            seed);
  }

  static Generator ofLattice(double low, double high, double step) {
    double points = Math.floor((high - low) / step) + 1;
    if (!(step > 0 && points >= 1 && points <= LARGEST_TABLE)) {
      throw new IllegalArgumentException(
          "A lattice from "
              + low
              + " to "
              + high
              + " in steps of "
              + step
              + " cannot be drawn from; a step above 0 and 1 to 2^20 points are allowed.");
    }
    double[] values = new double[(int) points];
    Arrays.setAll(values, i -> low + i * step);
    return ofValues(values);
  }

  private static void requireSome(int count) {
    if (count == 0) {
      throw new IllegalArgumentException(
          "A choice among no values cannot be drawn from; give one or more.");
    }
  }

  /** With the state in a variable; returns it as it is afterwards. */
  private static long fill(long[] column, int from, int to, long state, long[] codes) {
    long next = state;
    for (int row = from; row < to; row++) {
      next += RandomStream.STEP;
      column[row] = codes[(int) (((RandomStream.mix(next) >>> 32) * codes.length) >>> 32)];
    }
    return next;
  }

  @Override
  public void fill(long[][] words, int from, int to) {
    if (words.length == 1) {
      stream.state(fill(words[0], from, to, stream.state(), table[0]));
      return;
    }
    for (int row = from; row < to; row++) {
      int choice = stream.below(size);
      for (int word = 0; word < words.length; word++) {
        words[word][row] = table[word][choice];
      }
    }
  }
}
