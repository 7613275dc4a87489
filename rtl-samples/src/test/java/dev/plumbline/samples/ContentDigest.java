package dev.plumbline.samples;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URISyntaxException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.List;
import java.util.stream.Stream;

/** A SHA-256 over texts and over the files of compiled code. */
final class ContentDigest {
  private final MessageDigest digest;

  ContentDigest() {
    try {
      digest = MessageDigest.getInstance("SHA-256");
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("Every JDK has SHA-256.", e);
    }
  }

  void add(String text) {
    byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
    digest.update((bytes.length + ":").getBytes(StandardCharsets.US_ASCII));
    digest.update(bytes);
  }

  /** Adds everything that stands in the same jar or folder as a class. */
  void addClassesOf(Class<?> one) {
    try {
      Path place = Path.of(one.getProtectionDomain().getCodeSource().getLocation().toURI());
      for (Path file : files(place)) {
        add(place.relativize(file).toString());
        byte[] bytes = Files.readAllBytes(file);
        add(Integer.toString(bytes.length));
        digest.update(bytes);
      }
    } catch (IOException e) {
      throw new UncheckedIOException("The compiled code of " + one + " could not be read.", e);
    } catch (URISyntaxException e) {
      throw new IllegalStateException("The compiled code of " + one + " is in no file.", e);
    }
  }

  private static List<Path> files(Path place) throws IOException {
    try (Stream<Path> files = Files.walk(place)) {
      return files.filter(Files::isRegularFile).sorted().toList();
    }
  }

  String hex() {
    return HexFormat.of().formatHex(digest.digest());
  }
}
