package dev.plumbline.lockstep;

import dev.plumbline.lockstep.Output.Promise;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.stimulus.RandomStream;
import java.util.Arrays;

/**
 * Reads of an executor's program while rays are in hand: when, of which address, and what stands at
 * the port then. Words that were never loaded are not read, and none while words are loaded; every
 * block begins with one, so that what stands there is always known.
 */
final class SurfaceReads {
  static final String WORD = "surface_word";

  private final ExecutorColumns columns;
  private final RandomStream chance;
  private final Output word; // null where nothing can be read
  private final long[][] memory; // by address; null where no word was loaded
  private int loaded; // words from address 0 on
  private int oneIn;
  private long[] standing; // null where it is not known

  SurfaceReads(ExecutorColumns columns, int length, RandomStream chance) {
    this.columns = columns;
    this.chance = chance;
    this.word =
        columns.results.stream()
            .filter(output -> output.promise.role().equals(WORD))
            .findFirst()
            .orElse(null);
    this.memory = new long[word == null ? 0 : length][];
  }

  /** A word of a program, in fields as wide as they may be. */
  static Promise promise(int width) {
    int bits = Math.min(width, Long.SIZE - 1);
    while (width % bits != 0) {
      bits--;
    }
    return new Promise(WORD, Format.unsigned(bits, 0), width / bits, (r, t, e) -> 0);
  }

  /** Fills rows of a block, counted from its start; the load comes before any read. */
  void fill(Block block, int from, int length) {
    if (word == null) {
      return;
    }
    Arrays.fill(columns.surfaceRead, 0, length, 0);
    int first = block.loadFrom + block.loadRows;
    int known = Math.max(loaded, block.program.length());
    for (int i = Math.max(0, first - from); i < length; i++) {
      boolean begins = from + i == first;
      if (begins) {
        oneIn = 1 << chance.below(7);
      }
      if (begins || chance.below(oneIn) == 0) {
        columns.surfaceRead[i] = 1;
        boolean own = chance.below(4) > 0;
        columns.surfaceAddress[i] = chance.below(own ? block.program.length() : known);
      }
    }
  }

  /** Has what stands at the port expected in a row, with the result of a record. */
  void expect(int row, int record) {
    if (word == null) {
      return;
    }
    for (int i = 0; i < word.words(); i++) {
      word.expected()[i][record] = standing == null ? word.sampled()[i][row] : standing[i];
    }
  }

  /**
   * What stands at the port in the row behind the latest that was seen, in words of 64 bits; null
   * where that is not known.
   */
  long[] standing() {
    return standing;
  }

  /** Takes in what was driven in a row. */
  void see(int row) {
    if (word == null) {
      return;
    }
    if (columns.loadValid[row] == 1) {
      int address = (int) columns.loadAddress[row];
      loaded = Math.max(loaded, address + 1);
      memory[address] = new long[word.words()];
      for (int i = 0; i < word.words(); i++) {
        memory[address][i] = columns.loadWord[i][row];
      }
    } else if (columns.surfaceRead[row] == 1) {
      standing = memory[(int) columns.surfaceAddress[row]];
    }
    boolean aborts = columns.abort != null && columns.abort[row] == 1;
    if (aborts || (columns.reset != null && columns.reset[row] == 1)) {
      standing = null;
    }
  }
}
