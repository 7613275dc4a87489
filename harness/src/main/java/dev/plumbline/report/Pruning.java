package dev.plumbline.report;

import dev.plumbline.evidence.ReportException;
import java.io.IOException;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.attribute.FileTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;

/**
 * Removes the oldest runs beyond a number or a size. Never removed are the run at work, the last
 * green one, one with a file {@code keep} in it, one that somebody is adding to, and whatever is no
 * run's folder.
 *
 * @param runs how many runs may stay
 * @param bytes how much they may take
 */
record Pruning(long runs, long bytes) {
  private static final String RUNS = "plumbline.keep.runs";
  private static final String MEGABYTES = "plumbline.keep.megabytes";
  private static final long MEGABYTE = 1 << 20;

  /** What a run's folder is called while it goes. */
  private static final String GOING = ".pruned-";

  /** As the properties say; all stays unless they are set. */
  static Pruning fromProperties() {
    long most = number(MEGABYTES, System.getProperty(MEGABYTES, ""));
    return new Pruning(
        number(RUNS, System.getProperty(RUNS, "")),
        most > Long.MAX_VALUE / MEGABYTE ? Long.MAX_VALUE : most * MEGABYTE);
  }

  static long number(String property, String text) {
    if (text.isBlank()) {
      return Long.MAX_VALUE;
    }
    if (!text.strip().matches("0*[1-9][0-9]{0,14}")) {
      throw new IllegalArgumentException(
          "Property "
              + property
              + " cannot be \""
              + text
              + "\"; a whole number, 1 or more, is allowed.");
    }
    return Long.parseLong(text.strip());
  }

  private record Run(Path folder, FileTime changed, long size, boolean stays) {}

  /** Removes what is too much; what cannot be removed is in nobody's way and stays. */
  void prune(Path reports, Path atWork) throws IOException {
    removeGoing(reports);
    if (runs == Long.MAX_VALUE && bytes == Long.MAX_VALUE) {
      return;
    }
    List<Run> newestFirst = runs(reports, atWork);
    long count = 0;
    long size = 0;
    for (Run run : newestFirst) {
      count++;
      size += run.size();
      if (!run.stays() && (count > runs || size > bytes)) {
        if (remove(run.folder())) {
          count--;
          size -= run.size();
        }
      }
    }
  }

  private static List<Run> runs(Path reports, Path atWork) throws IOException {
    List<Run> found = new ArrayList<>();
    try (Stream<Path> all = Files.list(reports)) {
      for (Path folder : all.toList()) {
        Path ledger = folder.resolve(Ledger.FILE);
        if (!Files.isSymbolicLink(folder) && Files.isRegularFile(ledger)) {
          found.add(
              new Run(
                  folder,
                  Files.getLastModifiedTime(ledger),
                  size(folder),
                  folder.equals(atWork) || Files.exists(folder.resolve("keep"))));
        }
      }
    }
    found.sort(Comparator.comparing(Run::changed).thenComparing(Run::folder).reversed());
    boolean seen = false;
    for (int i = 0; i < found.size() && !seen; i++) {
      Run run = found.get(i);
      if (!run.folder().equals(atWork) && isGreen(run.folder())) {
        found.set(i, new Run(run.folder(), run.changed(), run.size(), true));
        seen = true;
      }
    }
    return found;
  }

  private static boolean isGreen(Path folder) {
    try {
      List<LedgerEntry> entries = Ledger.read(folder);
      return !entries.isEmpty() && entries.stream().allMatch(LedgerEntry::isPass);
    } catch (ReportException e) {
      return false;
    }
  }

  private static long size(Path folder) throws IOException {
    try (Stream<Path> files = Files.walk(folder)) {
      long size = 0;
      for (Path file : files.toList()) {
        size += Files.isRegularFile(file, LinkOption.NOFOLLOW_LINKS) ? Files.size(file) : 0;
      }
      return size;
    }
  }

  /** Out of the way in one step, so that a kill leaves no half of it; then removed. */
  private static boolean remove(Path folder) {
    Path going = folder.resolveSibling(GOING + folder.getFileName());
    try {
      RunLock.holdIfFree(folder, () -> Files.move(folder, going, StandardCopyOption.ATOMIC_MOVE));
      if (Files.notExists(going)) {
        return false; // somebody is at work on it
      }
      removeTree(going);
      return true;
    } catch (IOException | OverlappingFileLockException e) {
      return false;
    }
  }

  private static void removeGoing(Path reports) throws IOException {
    try (Stream<Path> all = Files.list(reports)) {
      for (Path folder : all.toList()) {
        if (folder.getFileName().toString().startsWith(GOING)) {
          removeTree(folder);
        }
      }
    }
  }

  private static void removeTree(Path folder) throws IOException {
    try (Stream<Path> files = Files.walk(folder)) {
      for (Path file : files.sorted(Comparator.reverseOrder()).toList()) {
        Files.deleteIfExists(file);
      }
    }
  }
}
