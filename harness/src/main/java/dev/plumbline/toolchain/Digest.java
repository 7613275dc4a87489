package dev.plumbline.toolchain;

import dev.plumbline.text.IoText;
import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.net.URISyntaxException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.CodeSource;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.Collection;
import java.util.HexFormat;
import java.util.stream.Stream;

/**
 * A SHA-256 over parts; each is led by its length, so that none can run into the next. It names
 * builds in the cache, where two contents of one name would run the wrong code; seeds and the
 * digest of {@code shake} make do with the 64-bit hash of {@code stimulus}, which any language has
 * in three lines.
 *
 * <pre>{@code
 * String key = new Digest().add(model.contentHash()).addClassesOf(MyReference.class).hex();
 * }</pre>
 */
public final class Digest {
  private final MessageDigest sha = sha256();

  /** Starts a digest of no parts. */
  public Digest() {}

  /**
   * Adds a text.
   *
   * @param part the text, taken in UTF-8
   * @return this digest
   */
  public Digest add(String part) {
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

  /**
   * Adds the compiled code that stands in the same jar or folder as a class, names and contents.
   *
   * @param one a class of it; those of the JDK itself stand nowhere and add no more than its
   *     version
   * @return this digest
   * @throws UncheckedIOException when the code cannot be read
   */
  public Digest addClassesOf(Class<?> one) {
    CodeSource code = one.getProtectionDomain().getCodeSource();
    if (code == null) {
      return add(Runtime.version().toString());
    }
    try {
      return addTree(Path.of(code.getLocation().toURI()));
    } catch (URISyntaxException e) {
      throw new IllegalStateException(
          "The compiled code of \""
              + one.getName()
              + "\" is in no file; a jar or a folder is needed. Run it from there.",
          e);
    }
  }

  /**
   * Adds all files of a folder, names and contents, or one file.
   *
   * @param place the folder, or the file
   * @return this digest
   * @throws UncheckedIOException when it cannot be read
   */
  public Digest addTree(Path place) {
    try (Stream<Path> files = Files.walk(place)) {
      for (Path file : files.filter(Files::isRegularFile).sorted().toList()) {
        add(place.relativize(file).toString()).add(Files.readAllBytes(file));
      }
      return this;
    } catch (IOException e) {
      throw new UncheckedIOException(
          "The files in \"" + place + "\" could not be read: " + IoText.of(e) + ".", e);
    }
  }

  /**
   * The digest of what was added; afterwards this starts anew.
   *
   * @return 64 hexadecimal digits
   */
  public String hex() {
    return HexFormat.of().formatHex(sha.digest());
  }

  static String of(String text) {
    return new Digest().add(text).hex();
  }

  static String of(Path file) throws IOException {
    return new Digest().add(Files.readAllBytes(file)).hex();
  }

  /** The digest of the first bytes of a file, which may be larger than memory. */
  static String ofStart(Path file, long length) throws IOException {
    Digest digest = new Digest();
    byte[] buffer = new byte[1 << 16];
    try (InputStream in = Files.newInputStream(file)) {
      long left = length;
      while (left > 0) {
        int read = in.read(buffer, 0, (int) Math.min(buffer.length, left));
        if (read < 0) {
          throw new EOFException(file + " is shorter than " + length + " bytes");
        }
        digest.sha.update(buffer, 0, read);
        left -= read;
      }
    }
    return digest.hex();
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
