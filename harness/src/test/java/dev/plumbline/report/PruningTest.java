package dev.plumbline.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.check.VerdictSamples;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class PruningTest {
  private static final long ALL = Long.MAX_VALUE;

  @TempDir private Path reports;

  /** Runs from the oldest to the newest: one is green where its name says so. */
  private void runs(String... names) throws IOException {
    for (int i = 0; i < names.length; i++) {
      RunReport run = RunReport.open(reports, names[i]);
      run.record(
          names[i].contains("green")
              ? VerdictSamples.pass("earth")
              : VerdictSamples.nothingChecked("earth"));
      FileTime time = FileTime.from(Instant.ofEpochSecond(1_000_000L + i));
      Files.setLastModifiedTime(run.folder().resolve(Ledger.FILE), time);
    }
  }

  private List<String> left() throws IOException {
    try (Stream<Path> all = Files.list(reports)) {
      return List.copyOf(
          new TreeSet<>(
              all.map(path -> path.getFileName().toString())
                  .filter(name -> name.startsWith("run"))
                  .toList()));
    }
  }

  @Test
  void theOldestGoButNeverTheLastGreenOrOneToKeep() throws IOException {
    runs("run1-green", "run2-red", "run3-green", "run4-red", "run5-red", "run6-red");
    Files.writeString(reports.resolve("run2-red/keep"), "");
    Files.createDirectories(reports.resolve("run0-notes"));
    Files.writeString(reports.resolve("run0-notes/mine.txt"), "of a person");

    new Pruning(2, ALL).prune(reports, reports.resolve("run6-red"));
    assertEquals(List.of("run0-notes", "run2-red", "run3-green", "run5-red", "run6-red"), left());
  }

  @Test
  void sizeCountsAsWell() throws IOException {
    runs("run1-green", "run2-red", "run3-red");
    Files.write(reports.resolve("run2-red/big.csv"), new byte[100_000]);
    new Pruning(ALL, 90_000).prune(reports, reports.resolve("run3-red"));
    assertEquals(List.of("run1-green", "run3-red"), left());
  }

  /** A run of which nothing is kept but what tests left that drove their DUT by hand. */
  @Test
  void aRunWithTracesAloneGoesAsWell() throws IOException {
    RunReport hand = RunReport.open(reports, "run1-hand");
    hand.keepTraces("moon", Map.of(), Map.of(), List.of(), "moon failed");
    assertTrue(Files.exists(reports.resolve("run1-hand/moon/facts.txt")));
    Path ledger = reports.resolve("run1-hand").resolve(Ledger.FILE);
    Files.setLastModifiedTime(ledger, FileTime.from(Instant.EPOCH));
    runs("run2-red");
    new Pruning(1, ALL).prune(reports, reports.resolve("run2-red"));
    assertEquals(List.of("run2-red"), left());
  }

  @Test
  void aRunThatSomebodyAddsToStays() throws IOException {
    runs("run1-red", "run2-red");
    RunLock.hold(
        reports.resolve("run1-red"),
        () -> {
          new Pruning(1, ALL).prune(reports, reports.resolve("run2-red"));
          return null;
        });
    assertEquals(List.of("run1-red", "run2-red"), left());
  }

  @Test
  void whatAKilledPruningLeftGoes() throws IOException {
    runs("run1-green");
    Path going = Files.createDirectories(reports.resolve(".pruned-run0/moon"));
    Files.writeString(going.resolve("facts.txt"), "");
    new Pruning(ALL, ALL).prune(reports, reports.resolve("run1-green"));
    assertTrue(Files.notExists(reports.resolve(".pruned-run0")));
  }

  @Test
  void propertiesThatAreNoNumbersAreRefused() {
    assertEquals(ALL, Pruning.number("plumbline.keep.runs", ""));
    assertEquals(30, Pruning.number("plumbline.keep.runs", " 30 "));
    for (String wrong : List.of("0", "-1", "many", "1e3")) {
      String message =
          assertThrows(
                  IllegalArgumentException.class,
                  () -> Pruning.number("plumbline.keep.runs", wrong))
              .getMessage();
      assertEquals(
          "Property plumbline.keep.runs cannot be \""
              + wrong
              + "\"; a whole number, 1 or more, is allowed.",
          message);
    }
  }
}
