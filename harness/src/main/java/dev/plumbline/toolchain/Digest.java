package dev.plumbline.toolchain;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.Collection;
import java.util.HexFormat;
import java.util.stream.Stream;

/**
 * A SHA-256 over labelled parts; each part is length-prefixed, so that none can run into the next.
 * It names builds in the cache, where two contents of one name would run the wrong code; seeds and
 * the digest of {@code shake} make do with the 64-bit hash of {@code stimulus}, which any language
 * has in three lines.
 */
final class Digest {
  private final MessageDigest sha = sha256();

  Digest add(String part) {
    return add(part.getBytes(StandardCharsets.UTF_8));
  }

  Digest add(byte[] part) {
    for (int shift = 24; shift >= 0; shift -= 8) {
      sha.update((byte) (part.length >> shift));
    }
    sha.update(part);
    return this;
  }

  Digest addAll(Collection<?> parts) {
    add(Integer.toString(parts.size()));
    parts.forEach(part -> add(part.toString()));
    return this;
  }

  /** The digest in 64 hexadecimal digits; afterwards this starts anew. */
  String hex() {
    return HexFormat.of().formatHex(sha.digest());
  }

  static String of(String text) {
    return new Digest().add(text).hex();
  }

  static String of(Path file) throws IOException {
    return new Digest().add(Files.readAllBytes(file)).hex();
  }

  /** The digest of the files in a folder, names and contents. */
  static String ofFolder(Path folder) throws IOException {
    Digest digest = new Digest();
    try (Stream<Path> files = Files.list(folder)) {
      for (Path file : files.sorted().toList()) {
        digest.add(file.getFileName().toString()).add(Files.readAllBytes(file));
      }
    }
    return digest.hex();
  }

  private static MessageDigest sha256() {
    try {
      return MessageDigest.getInstance("SHA-256");
    } catch (NoSuchAlgorithmException e) {
      throw new AssertionError("every JDK has SHA-256", e);
    }
  }
}
