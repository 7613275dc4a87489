package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;

/** Rows of input codes, and how to bring them into columns and results out of them. */
final class Cases {
  private Cases() {}

  /** Every combination of the codes of all inputs. */
  static List<BigInteger[]> all(List<Operand> inputs) {
    List<BigInteger[]> cases = new ArrayList<>();
    cases.add(new BigInteger[0]);
    for (Operand input : inputs) {
      List<BigInteger[]> longer = new ArrayList<>();
      for (BigInteger[] row : cases) {
        BigInteger code = input.format().minCode();
        for (; input.format().holds(code); code = code.add(BigInteger.ONE)) {
          BigInteger[] next = java.util.Arrays.copyOf(row, row.length + 1);
          next[row.length] = code;
          longer.add(next);
        }
      }
      cases = longer;
    }
    return cases;
  }

  /** Random codes of random magnitude, with ends, zero and their neighbours among them. */
  static List<BigInteger[]> random(List<Operand> inputs, int count, Random random) {
    List<BigInteger[]> cases = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      cases.add(inputs.stream().map(o -> code(o.format(), random)).toArray(BigInteger[]::new));
    }
    return cases;
  }

  private static BigInteger code(Format format, Random random) {
    BigInteger near = BigInteger.valueOf(random.nextInt(3));
    BigInteger code =
        switch (random.nextInt(8)) {
          case 0 -> format.minCode().add(near);
          case 1 -> format.maxCode().subtract(near);
          case 2 -> near.subtract(BigInteger.ONE);
          case 3 -> BigInteger.ONE.shiftLeft(random.nextInt(format.width())).add(near);
          default -> {
            BigInteger bits = new BigInteger(1 + random.nextInt(format.width()), random);
            yield random.nextBoolean() ? bits : bits.negate();
          }
        };
    return code.max(format.minCode()).min(format.maxCode());
  }

  /** Something with input columns. */
  interface Inputs {
    long[] column(int operand, int word);
  }

  static void fill(Datapath datapath, Inputs columns, List<BigInteger[]> cases, int from, int n) {
    for (int operand = 0; operand < datapath.inputs().size(); operand++) {
      Format format = datapath.inputs().get(operand).format();
      for (int i = 0; i < n; i++) {
        long[] words = format.toWords(cases.get(from + i)[operand]);
        for (int word = 0; word < words.length; word++) {
          columns.column(operand, word)[i] = words[word];
        }
      }
    }
  }

  /** Something with output columns. */
  interface Outputs {
    long[] column(int word);
  }

  static BigInteger code(Format format, Outputs columns, int i) {
    long[] words = new long[format.words()];
    for (int word = 0; word < words.length; word++) {
      words[word] = columns.column(word)[i];
    }
    return format.fromWords(words);
  }
}
