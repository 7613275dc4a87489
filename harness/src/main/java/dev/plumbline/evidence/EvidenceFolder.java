package dev.plumbline.evidence;

import dev.plumbline.text.IoText;
import dev.plumbline.verdict.KeptCase;
import dev.plumbline.verdict.ShownPicture;
import dev.plumbline.verdict.Verdict;
import dev.plumbline.verdict.Waveform;
import java.io.IOException;
import java.nio.file.FileSystemException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/**
 * The folder of evidence for one bench with a mismatch, or whose DUT ended by itself: {@code
 * mismatch.csv}, {@code facts.txt}, the smallest case of each kind of mismatch, {@code case-1.csv}
 * and so on, and {@code waveform.vcd} and {@code stages.csv} where what is inside the DUT was
 * looked at, and the verdict's pictures as PNG files. It is there as a whole or not at all: filled
 * aside first, then renamed.
 *
 * <pre>{@code
 * Path folder = EvidenceFolder.write(runFolder, verdict);
 * }</pre>
 */
public final class EvidenceFolder {
  /** How files of pictures end. */
  public static final String PICTURE = ".png";

  private static final int LONGEST_NAME = 80;

  /** How the files of a run end; its folders end in another way. */
  private static final Pattern FILE_OF_A_RUN = Pattern.compile("(?i).*\\.(csv|html|txt|jsonl)");

  private EvidenceFolder() {}

  /**
   * Writes the evidence of a verdict.
   *
   * @param run the run's folder
   * @param verdict one with recorded rows, pictures or a waveform
   * @return the new folder, named after the bench; with a number behind it when there is one
   *     already
   * @throws ReportException when it cannot be written; then nothing of it is left
   */
  public static Path write(Path run, Verdict verdict) {
    Map<String, String> files = new LinkedHashMap<>();
    if (!verdict.rows().isEmpty()) {
      files.put("mismatch.csv", MismatchTable.of(verdict).text());
    }
    if (!verdict.findings().inside().stages().isEmpty()) {
      files.put("stages.csv", StageTable.of(verdict.findings().inside().stages()).text());
    }
    for (int i = 0; i < verdict.groups().size(); i++) {
      String file = "case-" + (i + 1) + ".csv";
      verdict.groups().get(i).smallest().ifPresent(kept -> files.put(file, CaseFile.text(kept)));
    }
    List<Waveform> waveforms = verdict.findings().inside().waveform().stream().toList();
    return writeFiles(run, verdict.bench(), files, waveforms, verdict.pictures(), verdict.facts());
  }

  /**
   * Writes tables, waveforms and facts.
   *
   * @param run the run's folder
   * @param of what they are of: a bench or a test
   * @param tables by the names of their files
   * @param cases by the names of their files
   * @param waveforms go into {@code waveform.vcd}, {@code waveform-2.vcd} and so on
   * @param facts the text of {@code facts.txt}, without a line break at its end
   * @return the new folder, named after what they are of; with a number behind it when there is one
   *     already
   * @throws ReportException when it cannot be written; then nothing of it is left
   */
  public static Path write(
      Path run,
      String of,
      Map<String, CsvTable> tables,
      Map<String, KeptCase> cases,
      List<Waveform> waveforms,
      String facts) {
    Map<String, String> files = new LinkedHashMap<>();
    tables.forEach((file, table) -> files.put(file, table.text()));
    cases.forEach((file, kept) -> files.put(file, CaseFile.text(kept)));
    return writeFiles(run, of, files, waveforms, List.of(), facts);
  }

  private static Path writeFiles(
      Path run,
      String of,
      Map<String, String> files,
      List<Waveform> waveforms,
      List<ShownPicture> pictures,
      String facts) {
    String name = folderName(of);
    Path aside = run.resolve("." + name + "-" + UUID.randomUUID() + ".part");
    try {
      Files.createDirectories(run);
      Files.createDirectory(aside);
      try {
        files.forEach((file, text) -> WholeFile.write(aside.resolve(file), text));
        for (int i = 0; i < waveforms.size(); i++) {
          String file = i == 0 ? "waveform.vcd" : "waveform-" + (i + 1) + ".vcd";
          WholeFile.write(aside.resolve(file), WaveformText.of(waveforms.get(i)));
        }
        for (ShownPicture shown : pictures) {
          WholeFile.write(aside.resolve(shown.file() + PICTURE), PngFile.of(shown.picture()));
        }
        WholeFile.write(aside.resolve("facts.txt"), facts + System.lineSeparator());
        return publish(aside, run, name);
      } finally {
        remove(aside);
      }
    } catch (IOException e) {
      throw new ReportException(
          "A folder for the evidence could not be made in "
              + run
              + ": "
              + IoText.of(e)
              + ". A place with room and leave to write is needed; property plumbline.reports names"
              + " another.",
          e);
    }
  }

  /** Renames the folder to the first name that is free; an empty folder is in nobody's way. */
  private static Path publish(Path aside, Path run, String name) throws IOException {
    for (int number = 1; ; number++) {
      Path folder = run.resolve(number == 1 ? name : name + "-" + number);
      if (isTaken(folder)) {
        continue;
      }
      try {
        return Files.move(aside, folder, StandardCopyOption.ATOMIC_MOVE);
      } catch (FileSystemException e) {
        if (!isTaken(folder)) { // else another process was quicker: the next number
          throw e;
        }
      }
    }
  }

  private static boolean isTaken(Path folder) throws IOException {
    if (!Files.isDirectory(folder, LinkOption.NOFOLLOW_LINKS)) {
      return Files.exists(folder, LinkOption.NOFOLLOW_LINKS);
    }
    try (Stream<Path> files = Files.list(folder)) {
      return files.findAny().isPresent();
    }
  }

  /**
   * Removes a folder with the files in it, there or not.
   *
   * @param folder a folder without folders in it
   * @throws IOException when something of it stays
   */
  private static void remove(Path folder) throws IOException {
    if (Files.isDirectory(folder, LinkOption.NOFOLLOW_LINKS)) {
      try (Stream<Path> files = Files.list(folder)) {
        for (Path file : files.toList()) {
          Files.deleteIfExists(file);
        }
      }
    }
    Files.deleteIfExists(folder);
  }

  /**
   * Removes what a process that was killed left in a run's folder: whatever was to be renamed, and
   * empty folders.
   *
   * @param run the run's folder, which nobody else may be writing to
   * @throws IOException when something of it stays
   */
  public static void removeLeftovers(Path run) throws IOException {
    try (Stream<Path> files = Files.list(run)) {
      for (Path file : files.toList()) {
        String name = file.getFileName().toString();
        boolean aside = name.startsWith(".") && name.endsWith(".part");
        if (aside || (Files.isDirectory(file, LinkOption.NOFOLLOW_LINKS) && !isTaken(file))) {
          remove(file);
        }
      }
    }
  }

  /** A bench's name without what file systems and shells make something of. */
  static String folderName(String bench) {
    String plain = bench.replaceAll("[^A-Za-z0-9._-]+", "_").replaceAll("^[._-]+|[._-]+$", "");
    if (plain.isEmpty()) {
      return "bench";
    }
    String brief = plain.length() > LONGEST_NAME ? plain.substring(0, LONGEST_NAME) : plain;
    return FILE_OF_A_RUN.matcher(brief).matches() ? brief + "_bench" : brief;
  }
}
