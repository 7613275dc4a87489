package dev.plumbline.toolchain;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
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
    long length = Files.size(file);
    String seal = of(length, Digest.ofStart(file, length));
    Files.writeString(file, seal, StandardOpenOption.APPEND);
  }

  /** Whether the file is there, whole and as it was sealed. */
  static boolean holds(Path file) {
    try {
      if (!looksWhole(file)) {
        return false;
      }
      long end = Files.size(file) - LENGTH;
      return seal(file, end).equals(of(end, Digest.ofStart(file, end)));
    } catch (IOException e) {
      return false;
    }
  }

  /** Whether the file is there and ends in a seal of its length; for large ones read often. */
  static boolean looksWhole(Path file) {
    try {
      long end = Files.size(file) - LENGTH;
      return end >= 0 && seal(file, end).startsWith(of(end, ""));
    } catch (IOException e) {
      return false;
    }
  }

  private static String seal(Path file, long end) throws IOException {
    try (InputStream in = Files.newInputStream(file)) {
      in.skipNBytes(end);
      return new String(in.readNBytes(LENGTH), StandardCharsets.ISO_8859_1);
    }
  }

  private static String of(long length, String digest) {
    String start = String.format(Locale.ROOT, "\nplumbline %016x ", length);
    return digest.isEmpty() ? start : start + digest + "\n";
  }
}
