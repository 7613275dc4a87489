package dev.plumbline.evidence;

import dev.plumbline.text.IoText;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.AtomicMoveNotSupportedException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;

/**
 * Writes files that are there as a whole or not at all: aside first, then renamed.
 *
 * <pre>{@code
 * WholeFile.write(folder.resolve("facts.txt"), verdict.facts());
 * }</pre>
 */
public final class WholeFile {
  private WholeFile() {}

  /**
   * Writes a file in UTF-8, in place of one that is there; makes its folder.
   *
   * @param file where
   * @param text what
   * @throws ReportException when it cannot be written; what was there stays
   */
  public static void write(Path file, String text) {
    write(file, text.getBytes(StandardCharsets.UTF_8)); // half a character becomes ?
  }

  static void write(Path file, byte[] bytes) {
    try {
      Files.createDirectories(file.getParent());
      Path aside = Files.createTempFile(file.getParent(), "." + file.getFileName(), ".part");
      try {
        Files.write(aside, bytes);
        move(aside, file);
      } finally {
        Files.deleteIfExists(aside);
      }
    } catch (IOException e) {
      throw new ReportException(
          "File "
              + file
              + " could not be written: "
              + IoText.of(e)
              + ". A folder with room and leave to write is needed.",
          e);
    }
  }

  private static void move(Path aside, Path file) throws IOException {
    try {
      Files.move(aside, file, StandardCopyOption.ATOMIC_MOVE);
    } catch (AtomicMoveNotSupportedException e) {
      Files.move(aside, file, StandardCopyOption.REPLACE_EXISTING);
    }
  }
}
