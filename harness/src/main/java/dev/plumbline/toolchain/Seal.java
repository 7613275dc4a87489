package dev.plumbline.toolchain;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.Arrays;
import java.util.Locale;

/**
 * A last line that says how long a file is and what its digest is, so that a file of the cache that
 * a full disk, a power cut or anybody else has spoilt is noticed and made again. Whoever reads
 * object files and libraries does not mind what comes after them.
 */
final class Seal {
  private static final int HEX = 64;
  private static final int LENGTH = "\nplumbline ".length() + 16 + 1 + HEX + 1;

  private Seal() {}

  /** Puts a seal at the end of a file that is finished. */
  static void put(Path file) throws IOException {
    byte[] content = Files.readAllBytes(file);
    Files.writeString(file, of(content.length, digest(content)), StandardOpenOption.APPEND);
  }

  /** Whether the file is there, whole and as it was sealed. */
  static boolean holds(Path file) {
    try {
      if (!looksWhole(file)) {
        return false;
      }
      byte[] all = Files.readAllBytes(file);
      int end = all.length - LENGTH;
      String seal = new String(all, end, LENGTH, StandardCharsets.ISO_8859_1);
      return seal.equals(of(end, digest(Arrays.copyOf(all, end))));
    } catch (IOException e) {
      return false;
    }
  }

  /** Whether the file is there and ends in a seal of its length; for large ones read often. */
  static boolean looksWhole(Path file) {
    try (var channel = Files.newByteChannel(file)) {
      long end = channel.size() - LENGTH;
      if (end < 0) {
        return false;
      }
      byte[] seal = new byte[LENGTH];
      channel.position(end);
      int read = channel.read(java.nio.ByteBuffer.wrap(seal));
      return read == LENGTH
          && new String(seal, StandardCharsets.ISO_8859_1).startsWith(of(end, ""));
    } catch (IOException e) {
      return false;
    }
  }

  private static String of(long length, String digest) {
    String start = String.format(Locale.ROOT, "\nplumbline %016x ", length);
    return digest.isEmpty() ? start : start + digest + "\n";
  }

  private static String digest(byte[] content) {
    return new Digest().add(content).hex();
  }
}
