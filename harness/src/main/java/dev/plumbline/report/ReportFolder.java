package dev.plumbline.report;

import java.nio.file.Files;
import java.nio.file.Path;

/** Where reports go when nobody says: the checkout's folder, found upward from a place in it. */
final class ReportFolder {
  private ReportFolder() {}

  static Path find(String property, Path from) {
    if (property != null && !property.isEmpty()) {
      return Path.of(property).toAbsolutePath().normalize();
    }
    Path start = from.toAbsolutePath().normalize();
    for (Path folder = start; folder != null; folder = folder.getParent()) {
      if (Files.exists(folder.resolve(".git"))
          || Files.isRegularFile(folder.resolve("reports").resolve("README.md"))) {
        return folder.resolve("reports");
      }
    }
    return start.resolve("reports");
  }
}
