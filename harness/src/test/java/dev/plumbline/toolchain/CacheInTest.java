package dev.plumbline.toolchain;

import dev.plumbline.rtl.RtlSource;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import java.util.stream.Stream;

/**
 * A cache of a test's own; only what is compiled once for a tool chain is shared with the user's.
 */
final class CacheInTest {
  private CacheInTest() {}

  static Path at(Path folder) throws IOException {
    // Whatever is built leaves the shared part complete.
    DesignBuilder.build(
        RtlSource.of(Path.of("src/test/rtl/gear_train.sv")), BuildOptions.defaults());
    Path cache =
        Files.createDirectory(
            folder.resolve("cache"),
            PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString("rwx------")));
    Path shared = CacheFolder.find().entry("support", "");
    Files.createSymbolicLink(cache.resolve("support"), shared);
    return cache;
  }

  /** Takes the shared part out, so that whoever removes the folder meets no link. */
  static void leave(Path cache) throws IOException {
    Files.delete(cache.resolve("support"));
  }

  static DesignLibrary find(Path cache, RtlSource source) {
    return new DesignBuilder(Toolchain.find(), CacheFolder.at(cache))
        .find(source, BuildOptions.defaults());
  }

  static List<Path> entries(Path cache, String kind) throws IOException {
    try (Stream<Path> files = Files.list(cache.resolve(kind))) {
      return files.sorted().toList();
    }
  }
}
