package dev.plumbline.models.picture;

import java.io.ByteArrayOutputStream;
import java.util.Arrays;

/**
 * The run-length coding of bytes that ILBM calls ByteRun1 and Apple's Technote 1023 (1996)
 * PackBits: a byte n of 0 to 127 is followed by n + 1 bytes as they are, one of -1 to -127 by one
 * byte that is meant 1 - n times; -128 stands for nothing.
 */
public final class ByteRun {
  private static final int MOST = 128;
  private static final int WORTH_A_RUN = 3;

  private ByteRun() {}

  /**
   * Packs bytes; a row of a picture at a time, since no run goes beyond a row.
   *
   * @param row any number of bytes
   * @return at most one byte more for each 128 of them begun
   */
  public static byte[] pack(byte... row) {
    ByteArrayOutputStream packed = new ByteArrayOutputStream(row.length + row.length / MOST + 1);
    int from = 0; // what is not written yet
    int at = 0;
    while (at < row.length) {
      int run = 1;
      while (at + run < row.length && run < MOST && row[at + run] == row[at]) {
        run++;
      }
      if (run >= WORTH_A_RUN) {
        plain(row, from, at, packed);
        packed.write(1 - run);
        packed.write(row[at]);
        from = at + run;
      }
      at += run;
    }
    plain(row, from, row.length, packed);
    return packed.toByteArray();
  }

  private static void plain(byte[] row, int from, int to, ByteArrayOutputStream packed) {
    for (int at = from; at < to; at += MOST) {
      int count = Math.min(MOST, to - at);
      packed.write(count - 1);
      packed.write(row, at, count);
    }
  }

  /**
   * Unpacks bytes.
   *
   * @param packed as {@link #pack} or any other packer gives them
   * @return the bytes meant
   * @throws IllegalArgumentException when they end within a run
   */
  public static byte[] unpack(byte... packed) {
    ByteArrayOutputStream plain = new ByteArrayOutputStream();
    int at = 0;
    while (at < packed.length) {
      int code = packed[at++];
      int taken = code >= 0 ? code + 1 : code == -MOST ? 0 : 1;
      if (at + taken > packed.length) {
        throw new IllegalArgumentException(
            "Packed bytes that end within the run that begins at byte \""
                + (at - 1)
                + "\": it needs "
                + taken
                + " more bytes, and there are "
                + (packed.length - at)
                + ".");
      }
      if (code >= 0) {
        plain.write(packed, at, taken);
      } else if (taken == 1) {
        byte[] run = new byte[1 - code];
        Arrays.fill(run, packed[at]);
        plain.write(run, 0, run.length);
      }
      at += taken;
    }
    return plain.toByteArray();
  }
}
