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
    this.stream = RandomStream.of(seed);
    this.size = codes.size();
    this.table = new long[format.words()][size];
    for (int i = 0; i < size; i++) {
      long[] code = format.toWords(codes.get(i));
      for (int word = 0; word < table.length; word++) {
        table[word][i] = code[word];
      }
    }
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

  @Override
  public void fill(long[][] words, int from, int to) {
    if (words.length == 1) {
      long[] codes = table[0];
      long[] column = words[0];
      for (int row = from; row < to; row++) {
        column[row] = codes[stream.below(size)];
      }
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
