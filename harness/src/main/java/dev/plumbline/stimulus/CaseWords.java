package dev.plumbline.stimulus;

import dev.plumbline.models.datapath.Operand;
import java.util.List;

/** Where the words of one case stand in a flat array, and how each is brought into its format. */
final class CaseWords {
  private final int[] operand;
  private final int[] word;
  private final int[] drop;
  private final boolean[] signed;

  CaseWords(List<Operand> operands) {
    int count = operands.stream().mapToInt(o -> o.format().words()).sum();
    operand = new int[count];
    word = new int[count];
    drop = new int[count];
    signed = new boolean[count];
    int at = 0;
    for (int i = 0; i < operands.size(); i++) {
      int words = operands.get(i).format().words();
      for (int w = 0; w < words; w++) {
        operand[at] = i;
        word[at] = w;
        drop[at] = w == words - 1 ? 64 * words - operands.get(i).format().width() : 0;
        signed[at] = operands.get(i).format().signed();
        at++;
      }
    }
  }

  int count() {
    return operand.length;
  }

  void store(long[] words, long[][][] columns, int row) {
    for (int i = 0; i < operand.length; i++) {
      long shifted = words[i] << drop[i];
      columns[operand[i]][word[i]][row] = signed[i] ? shifted >> drop[i] : shifted >>> drop[i];
    }
  }
}
