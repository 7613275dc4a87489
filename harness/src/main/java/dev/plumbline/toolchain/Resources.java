package dev.plumbline.toolchain;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/** The C++ that every model has in common, kept as files beside this class. */
final class Resources {
  /** All of them; what a library is made of beside the design. */
  static final List<String> ALL =
      List.of(
          "limits.h",
          "hooks.h",
          "plumb.h",
          "ports.h",
          "runtime.cpp",
          "internals.cpp",
          "entry.cpp",
          "exports.map");

  private Resources() {}

  static String text(String name) {
    return new String(bytes(name), StandardCharsets.UTF_8);
  }

  static byte[] bytes(String name) {
    try (InputStream stream = Resources.class.getResourceAsStream(name)) {
      if (stream == null) {
        throw new AssertionError("resource " + name + " is not in the jar");
      }
      return stream.readAllBytes();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Writes some of them into a folder. */
  static void copy(Path folder, String... names) throws IOException {
    for (String name : names) {
      Files.write(folder.resolve(name), bytes(name));
    }
  }
}
