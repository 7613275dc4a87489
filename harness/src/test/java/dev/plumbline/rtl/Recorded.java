package dev.plumbline.rtl;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Map;

/** What several versions of Verilator printed; see the README in that folder. */
final class Recorded {
  private static final Path FOLDER = Path.of("src/test/resources/recorded");

  private Recorded() {}

  static Design xml(String version, String name) {
    return DesignReader.fromXml(FOLDER.resolve(version).resolve(name + ".xml"), Map.of());
  }

  static Design json(String version, String name) {
    Path folder = FOLDER.resolve(version);
    return DesignReader.fromJson(
        folder.resolve(name + ".tree.json"), folder.resolve(name + ".tree.meta.json"), Map.of());
  }

  static String text(String version, String file) {
    try (InputStream in = Recorded.class.getResourceAsStream("/recorded/" + version + "/" + file)) {
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
