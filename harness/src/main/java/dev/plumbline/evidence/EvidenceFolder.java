package dev.plumbline.evidence;

import dev.plumbline.verdict.Verdict;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;

/**
 * The folder of evidence for one bench with a mismatch: {@code mismatch.csv} and {@code facts.txt}.
 *
 * <pre>{@code
 * Path folder = EvidenceFolder.write(runFolder, verdict);
 * }</pre>
 */
public final class EvidenceFolder {
  private static final int LONGEST_NAME = 80;

  private EvidenceFolder() {}

  /**
   * Writes the evidence of a verdict.
   *
   * @param run the run's folder
   * @param verdict one with recorded rows
   * @return the new folder, named after the bench; with a number behind it when there is one
   *     already
   */
  public static Path write(Path run, Verdict verdict) {
    Path folder = newFolder(run, folderName(verdict.bench()));
    MismatchTable.of(verdict).writeTo(folder.resolve("mismatch.csv"));
    WholeFile.write(folder.resolve("facts.txt"), verdict.facts() + System.lineSeparator());
    return folder;
  }

  private static Path newFolder(Path run, String name) {
    try {
      Files.createDirectories(run);
      for (int number = 1; ; number++) {
        Path folder = run.resolve(number == 1 ? name : name + "-" + number);
        try {
          return Files.createDirectory(folder);
        } catch (FileAlreadyExistsException e) {
          // an earlier bench of that name: the next number
        }
      }
    } catch (IOException e) {
      throw new UncheckedIOException(
          "A folder for the evidence could not be made in "
              + run
              + "; a place with room and leave to write is needed. Property plumbline.reports names"
              + " another.",
          e);
    }
  }

  /** A bench's name without what file systems and shells make something of. */
  static String folderName(String bench) {
    String plain = bench.replaceAll("[^A-Za-z0-9._-]+", "_").replaceAll("^[._-]+|[._-]+$", "");
    if (plain.isEmpty()) {
      return "bench";
    }
    return plain.length() > LONGEST_NAME ? plain.substring(0, LONGEST_NAME) : plain;
  }
}
