package dev.plumbline.stimulus;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.concurrent.ConcurrentHashMap;

/** The corner codes of a format. */
final class Corners {
  /** Each segment of a run asks for them again. */
  private static final Map<Format, long[][]> TABLES = new ConcurrentHashMap<>();

  private Corners() {}

  /** The corner codes by word and number, not to be written to. */
  static long[][] table(Format format) {
    return TABLES.computeIfAbsent(format, key -> ChoiceSource.table(key, of(key)));
  }

  static List<BigInteger> of(Format format) {
    BigInteger min = format.minCode();
    BigInteger max = format.maxCode();
    TreeSet<BigInteger> codes = new TreeSet<>();
    addWithNeighbours(codes, min);
    addWithNeighbours(codes, max);
    addWithNeighbours(codes, BigInteger.ZERO);
    for (int bit = 0; bit < format.width(); bit++) {
      BigInteger power = BigInteger.ONE.shiftLeft(bit);
      addWithNeighbours(codes, power);
      addWithNeighbours(codes, power.negate());
    }
    BigInteger alternating = BigInteger.ZERO;
    for (int bit = 0; bit < format.width(); bit += 2) {
      alternating = alternating.setBit(bit);
    }
    BigInteger everyBit = BigInteger.ONE.shiftLeft(format.width()).subtract(BigInteger.ONE);
    codes.add(CodeWords.wrap(format, alternating));
    codes.add(CodeWords.wrap(format, alternating.xor(everyBit)));
    codes.removeIf(code -> code.compareTo(min) < 0 || code.compareTo(max) > 0);
    return List.copyOf(codes);
  }

  private static void addWithNeighbours(Set<BigInteger> codes, BigInteger code) {
    codes.add(code.subtract(BigInteger.ONE));
    codes.add(code);
    codes.add(code.add(BigInteger.ONE));
  }
}
