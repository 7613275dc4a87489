package dev.plumbline.report;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The commit that a checkout stands on, read from Git's own files (gitrepository-layout(5)). It
 * says nothing of changes that are not committed: the content hash of the RTL does.
 */
final class GitRevision {
  private static final Pattern COMMIT = Pattern.compile("[0-9a-f]{40,64}");
  private static final Pattern REF = Pattern.compile("ref: (\\S+)");
  private static final int BRIEF = 12;

  private GitRevision() {}

  /** The first digits of the commit of the checkout around a folder; empty where there is none. */
  static String around(Path folder) {
    for (Path at = folder.toAbsolutePath(); at != null; at = at.getParent()) {
      Path git = at.resolve(".git");
      if (Files.exists(git)) {
        try {
          return commit(git);
        } catch (IOException | RuntimeException e) {
          return ""; // a checkout that cannot be read has no revision to report
        }
      }
    }
    return "";
  }

  private static String commit(Path git) throws IOException {
    Path folder = Files.isDirectory(git) ? git : linked(git, "gitdir: ");
    Path common = folder.resolve("commondir");
    Path shared = Files.exists(common) ? folder.resolve(line(common)).normalize() : folder;
    String head = line(folder.resolve("HEAD"));
    Matcher ref = REF.matcher(head);
    if (!ref.matches()) {
      return brief(head);
    }
    for (Path place : new Path[] {folder, shared}) {
      Path file = place.resolve(ref.group(1));
      if (Files.isRegularFile(file)) {
        return brief(line(file));
      }
    }
    for (String packed : Files.readAllLines(shared.resolve("packed-refs"))) {
      if (packed.endsWith(" " + ref.group(1))) {
        return brief(packed.substring(0, packed.indexOf(' ')));
      }
    }
    return "";
  }

  /** A checkout beside the repository's own has a file that names its folder. */
  private static Path linked(Path file, String prefix) throws IOException {
    return file.resolveSibling(line(file).substring(prefix.length())).normalize();
  }

  private static String line(Path file) throws IOException {
    return Files.readString(file, StandardCharsets.UTF_8).strip();
  }

  private static String brief(String commit) {
    return COMMIT.matcher(commit).matches() ? commit.substring(0, BRIEF) : "";
  }
}
