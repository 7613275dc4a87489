package dev.plumbline.junit;

import dev.plumbline.evidence.CaseFile;
import dev.plumbline.evidence.ReportException;
import dev.plumbline.text.IoText;
import dev.plumbline.verdict.KeptCase;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.stream.Stream;

/** Finds the cases that are named beside a test, or on the command line. */
final class CaseFiles {
  private final Path base;
  private final Class<?> test;

  CaseFiles(Path base, Class<?> test) {
    this.base = base;
    this.test = test;
  }

  /** Cases by what they were called, in order; those of a folder by their names. */
  Map<String, KeptCase> all(String... names) {
    Map<String, KeptCase> cases = new LinkedHashMap<>();
    for (String name : names) {
      Path path = base.resolve(name);
      if (Files.isDirectory(path)) {
        for (Path file : files(path)) {
          cases.put(name + "/" + file.getFileName(), CaseFile.read(file));
        }
      } else {
        cases.put(name, one(name));
      }
    }
    return cases;
  }

  /** A file below the module's folder or one around it, else a resource. */
  KeptCase one(String name) {
    for (Path around = base; around != null; around = around.getParent()) {
      if (Files.isRegularFile(around.resolve(name))) {
        return CaseFile.read(around.resolve(name));
      }
    }
    try (InputStream resource = test.getResourceAsStream(name)) {
      if (resource == null) {
        throw new ReportException(
            "Case "
                + name
                + " is neither a file nor a folder below "
                + base
                + ", nor a resource of "
                + test.getName()
                + "; one of them is needed. Give its path from there.",
            null);
      }
      return CaseFile.parse(new String(resource.readAllBytes(), StandardCharsets.UTF_8), name);
    } catch (IOException e) {
      throw unreadable(name, e);
    }
  }

  private static Iterable<Path> files(Path folder) {
    try (Stream<Path> files = Files.list(folder)) {
      return files.filter(file -> file.toString().endsWith(".csv")).sorted().toList();
    } catch (IOException e) {
      throw unreadable(folder.toString(), e);
    }
  }

  private static ReportException unreadable(String name, IOException e) {
    return new ReportException(
        "Case " + name + " could not be read: " + IoText.of(e) + ". A file in UTF-8 is needed.", e);
  }
}
