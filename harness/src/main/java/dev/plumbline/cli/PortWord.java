package dev.plumbline.cli;

import dev.plumbline.cosim.Batch;
import dev.plumbline.rtl.Port;
import dev.plumbline.rtl.PortLayout;
import java.util.ArrayList;
import java.util.List;

/**
 * One column of a batch: a 64-bit word of a port or of an array's element. They are listed in the
 * order of the digest, which is that of {@link PortLayout}.
 */
final class PortWord {
  /** The batch's own column, one word a row. */
  final long[] column;

  /** The bits of the port that lie in this word. */
  final long mask;

  /** How many bytes those bits take. */
  final int bytes;

  private PortWord(long[] column, int bits) {
    this.column = column;
    this.mask = -1L >>> (Long.SIZE - bits);
    this.bytes = (bits + Byte.SIZE - 1) / Byte.SIZE;
  }

  /** The words of one port. */
  static List<PortWord> of(Batch batch, Port port) {
    List<PortWord> words = new ArrayList<>();
    for (String element : PortLayout.elements(port)) {
      for (int word = 0; word < port.words(); word++) {
        int bits = Math.min(Long.SIZE, port.width() - word * Long.SIZE);
        words.add(new PortWord(batch.column(element, word), bits));
      }
    }
    return words;
  }
}
