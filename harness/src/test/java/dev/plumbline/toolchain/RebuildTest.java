package dev.plumbline.toolchain;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.rtl.RtlSource;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Instant;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** Only what has changed is done again: nothing, Verilator's part, or all. */
@Tag("thorough")
@Execution(ExecutionMode.CONCURRENT)
class RebuildTest {
  private static final String BELL =
      """
      `include "strokes.svh"
      module bell #(parameter int Step = 1) (input logic clk, output logic [7:0] count);
        // Strikes.
        always_ff @(posedge clk) count <= count + 8'(Step * `STROKES);
      endmodule
      """;

  @TempDir private Path folder;
  private Path cache;
  private Path file;
  private Path include;
  private Path earlier;
  private RtlSource source;

  @BeforeEach
  void aBell() throws IOException {
    cache = CacheInTest.at(folder);
    file = Files.writeString(folder.resolve("bell.sv"), BELL);
    include = Files.createDirectory(folder.resolve("include"));
    strokes("`define STROKES 3\n");
    earlier = Files.createDirectory(folder.resolve("earlier"));
    source = RtlSource.of(file).withIncludeFolder(earlier).withIncludeFolder(include);
  }

  @AfterEach
  void partFromTheSharedCache() throws IOException {
    CacheInTest.leave(cache);
  }

  private void strokes(String text) throws IOException {
    Files.writeString(include.resolve("strokes.svh"), text);
  }

  private ProcessCount.Made<DesignLibrary> find(RtlSource wanted) throws IOException {
    return ProcessCount.during(() -> CacheInTest.find(cache, wanted));
  }

  private void assertNothingStarted(ProcessCount.Made<DesignLibrary> made) {
    assertEquals(0, made.commands().size(), () -> made.commands().toString());
  }

  private void assertOnlyElaborated(ProcessCount.Made<DesignLibrary> made) {
    assertTrue(made.of("verilator") > 0, () -> made.commands().toString());
    assertEquals(made.commands().size(), made.of("verilator"), () -> made.commands().toString());
  }

  private void assertCompiled(ProcessCount.Made<DesignLibrary> made) {
    assertTrue(made.of("verilator") > 0, () -> made.commands().toString());
    assertEquals(1, made.of("g\\+\\+"), () -> made.commands().toString());
  }

  @Test
  void eachChangeCostsWhatItTouches() throws IOException {
    ProcessCount.Made<DesignLibrary> first = find(source);
    assertCompiled(first);
    DesignLibrary three = first.value();

    ProcessCount.Made<DesignLibrary> unchanged = find(source);
    assertNothingStarted(unchanged);
    assertEquals(three, unchanged.value());

    // Another time of the same content is no change.
    Files.setLastModifiedTime(file, FileTime.from(Instant.now().minusSeconds(3600)));
    assertNothingStarted(find(source));

    // A comment is one, but not to what Verilator makes of the file.
    Files.writeString(file, BELL.replace("Strikes.", "Strikes the hour."));
    ProcessCount.Made<DesignLibrary> commented = find(source);
    assertOnlyElaborated(commented);
    assertEquals(three.file(), commented.value().file());
    assertNotEquals(three.contentHash(), commented.value().contentHash());
    assertNothingStarted(find(source));

    // The file that is included counts as much as the one that includes it.
    strokes("`define STROKES 4\n");
    ProcessCount.Made<DesignLibrary> four = find(source);
    assertCompiled(four);
    assertNotEquals(three.file(), four.value().file());

    // And back: the library is still there, only the proof is not.
    strokes("`define STROKES 3\n");
    ProcessCount.Made<DesignLibrary> back = find(source);
    assertOnlyElaborated(back);
    assertEquals(three.file(), back.value().file());

    // A file that comes before the one that was read, which itself is as it was.
    Files.writeString(earlier.resolve("strokes.svh"), "`define STROKES 4\n");
    ProcessCount.Made<DesignLibrary> before = find(source);
    assertOnlyElaborated(before);
    assertEquals(four.value().file(), before.value().file());
    Files.delete(earlier.resolve("strokes.svh"));
    assertEquals(three.file(), find(source).value().file());

    // A parameter makes another design; the first one stays known.
    assertCompiled(find(source.withParameter("Step", "2")));
    assertNothingStarted(find(source));
    assertNothingStarted(find(source.withParameter("Step", "2")));
  }

  @Test
  void whatWasTakenOutOfTheCacheIsMadeAgain() throws IOException {
    DesignLibrary library = find(source).value();
    Files.delete(library.file());
    ProcessCount.Made<DesignLibrary> again = find(source);
    assertCompiled(again);
    assertEquals(library, again.value());

    for (Path entry : CacheInTest.entries(cache, "elaborated")) {
      if (Files.isDirectory(entry)) {
        CacheFolder.remove(entry);
      } else {
        Files.writeString(entry, "");
      }
    }
    assertOnlyElaborated(find(source));
    assertNothingStarted(find(source));
  }
}
