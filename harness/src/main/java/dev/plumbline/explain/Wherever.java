package dev.plumbline.explain;

import dev.plumbline.contract.Reference;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.verdict.MismatchGroup.LikelyKind;
import dev.plumbline.window.Observation;
import dev.plumbline.window.Observation.Result;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/**
 * What all wrong cases have in common, and no right one: an operand or a result that should be 0,
 * be negative or stand at an end of its format, two operands that are equal. It says where a
 * decision or a limit is missing, of a reference of which nothing else is known.
 */
final class Wherever {
  /** Fewer cases of either sort say nothing. */
  private static final int FEW = 4;

  /**
   * A property of a case.
   *
   * @param words to follow "wrong wherever, and only where, "
   */
  private record Property(LikelyKind kind, String words, Holds holds) {}

  @FunctionalInterface
  private interface Holds {
    /** Whether a case has it, by the words of its operands and what was allowed at the least. */
    boolean of(long[] operands, long[][] low);
  }

  private final List<Property> left = new ArrayList<>();
  private final int tried;
  private int wrong;
  private int right;

  Wherever(Reference reference) {
    List<Operand> inputs = reference.inputs();
    int at = 0;
    int[] word = new int[inputs.size()];
    for (int i = 0; i < word.length; i++) {
      word[i] = at;
      at += inputs.get(i).format().words();
    }
    for (int i = 0; i < word.length; i++) {
      int own = word[i];
      Format format = inputs.get(i).format();
      if (format.words() > 1) {
        continue;
      }
      codes(inputs.get(i).name() + " is", format, (code, holds) -> (in, low) -> holds.of(in[own]));
      for (int j = 0; j < i; j++) {
        int other = word[j];
        if (inputs.get(j).format().equals(format)) {
          String both = inputs.get(j).name() + " and " + inputs.get(i).name() + " are equal";
          left.add(new Property(LikelyKind.DECISION, both, (in, low) -> in[own] == in[other]));
        }
      }
    }
    for (int o = 0; o < reference.outputs().size(); o++) {
      int own = o;
      Format format = reference.outputs().get(o).format();
      if (format.words() == 1) {
        String name = reference.outputs().get(o).name() + " should be";
        codes(name, format, (code, holds) -> (in, low) -> holds.of(low[own][0]));
      }
    }
    tried = left.size();
  }

  @FunctionalInterface
  private interface OfCode {
    boolean of(long code);
  }

  @FunctionalInterface
  private interface Where {
    Holds where(String code, OfCode holds);
  }

  private void codes(String name, Format format, Where where) {
    long least = format.minCode().longValue();
    long most = format.maxCode().longValue();
    add(LikelyKind.DECISION, name + " 0", where, code -> code == 0);
    if (format.width() == 1) {
      add(LikelyKind.DECISION, name + " 1", where, code -> code != 0);
      return;
    }
    add(LikelyKind.OVERFLOW, name + " the highest code", where, code -> code == most);
    if (format.signed()) {
      add(LikelyKind.OVERFLOW, name + " the lowest code", where, code -> code == least);
      add(
          LikelyKind.OVERFLOW,
          name + " the lowest or the highest code",
          where,
          code -> code == least || code == most);
      add(LikelyKind.SIGN, name + " below 0", where, code -> code < 0);
      add(LikelyKind.SIGN, name + " above 0", where, code -> code > 0);
    }
    add(LikelyKind.DECISION, name + " not 0", where, code -> code != 0);
    add(LikelyKind.DECISION, name + " odd", where, code -> (code & 1) != 0);
  }

  private void add(LikelyKind kind, String words, Where where, OfCode holds) {
    left.add(new Property(kind, words, where.where(words, holds)));
  }

  int tried() {
    return tried;
  }

  /** Looks at what was seen; columns of what was allowed are those of the checks. */
  void add(Observation seen) {
    int[] outputs = seen.outputs();
    for (Result result : seen.results()) {
      long[][] low = new long[outputs.length == 0 ? 0 : highest(outputs) + 1][1];
      for (int c = 0; c < outputs.length; c++) {
        low[outputs[c]] = result.low()[c];
      }
      wrong += result.wrong() ? 1 : 0;
      right += result.wrong() ? 0 : 1;
      long[] operands = seen.places().get(result.place());
      left.removeIf(one -> holds(one, operands, low) != result.wrong());
    }
  }

  private static boolean holds(Property one, long[] operands, long[][] low) {
    try {
      return one.holds().of(operands, low);
    } catch (ArrayIndexOutOfBoundsException e) {
      return false; // an output that the contract does not check
    }
  }

  private static int highest(int[] outputs) {
    int highest = 0;
    for (int output : outputs) {
      highest = Math.max(highest, output);
    }
    return highest;
  }

  /** The first property that is left, if enough was seen. */
  Map<LikelyKind, String> find() {
    return left.isEmpty() || wrong < FEW || right < FEW
        ? Map.of()
        : Map.of(left.get(0).kind(), "wrong wherever, and only where, " + left.get(0).words());
  }
}
