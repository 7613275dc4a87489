package dev.plumbline.samples.docs;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.samples.SampleRtl;
import java.io.IOException;
import java.nio.file.FileVisitResult;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.SimpleFileVisitor;
import java.nio.file.attribute.BasicFileAttributes;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.junit.jupiter.api.io.TempDir;

/**
 * The README's way from an empty folder to a verdict, walked with Maven itself: its commands and
 * its pom as they stand there, a copy of this project, a local repository of its own. It takes a
 * minute, so the gate leaves it to {@code -Dplumbline.route=true} and walks {@link ReadmeTest}.
 */
@EnabledIfSystemProperty(named = "plumbline.route", matches = "true")
class StrangersRouteTest {
  private static final Path ROOT = SampleRtl.FOLDER.getParent().getParent().toAbsolutePath();
  private static final Set<String> LEFT = Set.of("target", "reports", ".git");

  @TempDir Path folder;

  @Test
  void commandsOfTheReadmeLeadFromAnEmptyFolderToAVerdict() throws Exception {
    copy(ROOT, folder.resolve("plumbline"), LEFT, false);
    String own = Path.of(System.getProperty("user.home"), ".m2", "repository").toString();
    Path repository = folder.resolve("repository");
    copy(Path.of(System.getProperty("maven.repo.local", own)), repository, Set.of(), true);
    Path chip = folder.resolve("chip");
    Files.createDirectories(chip.resolve("rtl"));
    Files.copy(Path.of("src/test/rtl/ball.v"), chip.resolve("rtl/ball.v"));
    Files.writeString(chip.resolve("pom.xml"), ReadmeTest.block("xml", "plumbline-harness"));
    String maven = "mvn() { command mvn -o -Dmaven.repo.local=" + repository + " \"$@\"; }\n";

    String install =
        "cd " + folder + "/plumbline\n" + ReadmeTest.block("sh", "install -DskipTests");
    String draft = "cd " + chip + "\n" + ReadmeTest.block("sh", "plumbline draft");
    assertEquals(0, run(maven + install + draft), () -> log());
    String summary = "reports/latest/summary.csv";
    assertTrue(Files.readString(chip.resolve(summary)).contains(",pass,"), log());

    Path ball = chip.resolve("rtl/ball.v");
    String right = Files.readString(ball);
    Files.writeString(ball, right.replace("word(b - half)", "word(b - half - 42'sd200)"));
    assertNotEquals(0, run(maven + "cd " + chip + "\nmvn test"), () -> log());
    assertTrue(Files.readString(chip.resolve(summary)).contains(",mismatch,"), log());
  }

  private int run(String script) throws IOException, InterruptedException {
    return new ProcessBuilder("sh", "-e", "-c", script)
        .redirectErrorStream(true)
        .redirectOutput(folder.resolve("log").toFile())
        .start()
        .waitFor();
  }

  private String log() {
    try {
      return Files.readString(folder.resolve("log"));
    } catch (IOException e) {
      throw new AssertionError(e);
    }
  }

  /** Copies a tree, or links its files, without some folders; never what was installed of us. */
  private static void copy(Path from, Path to, Set<String> left, boolean link) throws IOException {
    Files.walkFileTree(
        from,
        new SimpleFileVisitor<>() {
          @Override
          public FileVisitResult preVisitDirectory(Path at, BasicFileAttributes attributes)
              throws IOException {
            boolean ours = link && at.endsWith(Path.of("dev", "plumbline"));
            if (ours || left.contains(at.getFileName().toString())) {
              return FileVisitResult.SKIP_SUBTREE;
            }
            Files.createDirectories(to.resolve(from.relativize(at)));
            return FileVisitResult.CONTINUE;
          }

          @Override
          public FileVisitResult visitFile(Path at, BasicFileAttributes attributes)
              throws IOException {
            Path copied = to.resolve(from.relativize(at));
            if (link) {
              link(copied, at);
            } else {
              Files.copy(at, copied);
            }
            return FileVisitResult.CONTINUE;
          }
        });
  }

  private static void link(Path copied, Path at) throws IOException {
    try {
      Files.createLink(copied, at);
    } catch (IOException | UnsupportedOperationException e) {
      Files.copy(at, copied); // another file system
    }
  }
}
