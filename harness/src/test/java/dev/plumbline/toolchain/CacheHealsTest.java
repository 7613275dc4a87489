package dev.plumbline.toolchain;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.rtl.RtlSource;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** What a full disk or a power cut leaves in the cache is noticed and made again. */
@Tag("thorough")
@Execution(ExecutionMode.CONCURRENT)
class CacheHealsTest {
  @TempDir private Path folder;
  private Path cache;
  private RtlSource source;
  private DesignLibrary whole;

  @BeforeEach
  void aCacheOfItsOwn() throws IOException {
    cache = CacheFolder.at(folder.resolve("cache")).entry("support", "").getParent();
    Support shared = new Support(Toolchain.find(), CacheFolder.find());
    copy(shared.header(Support.Level.O3));
    for (String object : List.of("runtime", "verilated", "verilated_threads")) {
      copy(shared.object(object));
    }
    Files.writeString(
        folder.resolve("bell.sv"),
        """
        module bell (input logic clk, output logic [7:0] count);
          always_ff @(posedge clk) count <= count + 8'd1;
        endmodule
        """);
    source = RtlSource.of(folder.resolve("bell.sv"));
    whole = find();
  }

  private void copy(Path shared) throws IOException {
    Path own = cache.resolve("support").resolve(shared.getFileName().toString());
    if (Files.isDirectory(shared)) {
      Files.createDirectory(
          own, PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString("rwx------")));
      try (Stream<Path> files = Files.list(shared)) {
        for (Path file : files.toList()) {
          Files.copy(file, own.resolve(file.getFileName().toString()));
        }
      }
    } else {
      Files.copy(shared, own);
    }
  }

  private DesignLibrary find() {
    return new DesignBuilder(Toolchain.find(), CacheFolder.at(cache))
        .find(source, BuildOptions.defaults().withOptimisation(BuildOptions.Optimisation.FIRST));
  }

  private void assertHealed(Path spoilt) throws IOException {
    assertEquals(whole, find());
    assertTrue(Seal.holds(whole.file()), "the library is whole");
    assertTrue(Files.isDirectory(spoilt) || Files.size(spoilt) > 0, spoilt + " is back");
    assertEquals(0, ProcessCount.during(this::find).commands().size(), "and known again");
  }

  private interface Spoiling {
    void of(Path file) throws IOException;
  }

  private static final List<Spoiling> SPOILINGS =
      List.of(
          file -> Files.write(file, new byte[0]),
          file -> Files.write(file, cut(Files.readAllBytes(file), 2)),
          file -> {
            byte[] bytes = Files.readAllBytes(file);
            bytes[bytes.length / 3] = (byte) ~bytes[bytes.length / 3];
            Files.write(file, bytes);
          });

  private static byte[] cut(byte[] bytes, int parts) {
    return java.util.Arrays.copyOf(bytes, bytes.length / parts);
  }

  /** One way to spoil them in the quality gate. */
  @Test
  void spoiltLibrariesRecordsAndDescriptionsAreMadeAgain() throws IOException {
    int first = Boolean.getBoolean("plumbline.long") ? 0 : SPOILINGS.size() - 1;
    for (Spoiling spoiling : SPOILINGS.subList(first, SPOILINGS.size())) {
      spoiling.of(whole.file());
      assertHealed(whole.file());
      for (Path entry : CacheInTest.entries(cache, "elaborated")) {
        if (Files.isDirectory(entry)) {
          try (Stream<Path> files = Files.list(entry)) {
            for (Path file : files.toList()) {
              spoiling.of(file);
            }
          }
        } else {
          spoiling.of(entry);
        }
        assertHealed(entry);
      }
    }
  }

  /** The header alone, which is made in a second; the run-time library with the long tests. */
  @Test
  void spoiltSupportIsMadeAgain() throws IOException {
    boolean isLong = Boolean.getBoolean("plumbline.long");
    for (Path entry : CacheInTest.entries(cache, "support")) {
      String name = entry.getFileName().toString();
      if (!name.endsWith("-O3") && !(isLong && name.endsWith("-runtime.o"))) {
        continue;
      }
      Path file = Files.isDirectory(entry) ? entry.resolve("model.h.gch") : entry;
      // Cut short, and with a hole that only who reads it notices.
      if (isLong) {
        Files.write(file, cut(Files.readAllBytes(file), 2));
        Files.delete(whole.file());
        assertHealed(file);
        assertTrue(Seal.holds(file), name);
      }
      byte[] bytes = Files.readAllBytes(file);
      java.util.Arrays.fill(bytes, 0, bytes.length / 2, (byte) 0);
      Files.write(file, bytes);
      Files.delete(whole.file());
      assertFalse(Seal.holds(file));
      assertHealed(file);
    }
  }

  @Test
  void whatCannotRunSaysWhereTheCacheHasToBe() {
    ToolchainException e =
        ToolchainException.cannotRun(
            Path.of("/cache/libraries/a.so"),
            new UnsatisfiedLinkError("failed to map segment from shared object"));
    assertTrue(e.getMessage().contains("/cache/libraries/a.so was made but cannot be run"));
    assertTrue(e.getMessage().contains("-Dplumbline.cache=FOLDER"), e.getMessage());
  }
}
