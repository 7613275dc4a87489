package dev.plumbline.toolchain;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import dev.plumbline.rtl.RtlSource;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A cache on a file system from which nothing may run; mounted for real, where that is allowed. */
@Tag("thorough")
class NoExecutionTest {
  @TempDir private Path folder;
  private Path mount;

  @BeforeEach
  void aFileSystemWithoutExecution() throws IOException, InterruptedException {
    mount = Files.createDirectory(folder.resolve("mount"));
    int status = run("mount", "-t", "tmpfs", "-o", "noexec,mode=700", "tmpfs", mount.toString());
    assumeTrue(status == 0, "only root can mount, and not in every container");
  }

  @AfterEach
  void takenAway() throws IOException, InterruptedException {
    run("umount", "-l", mount.toString());
  }

  private static int run(String... command) throws InterruptedException {
    try {
      return new ProcessBuilder(command)
          .redirectErrorStream(true)
          .redirectOutput(ProcessBuilder.Redirect.DISCARD)
          .start()
          .waitFor();
    } catch (IOException e) {
      return -1;
    }
  }

  @Test
  void isToldBeforeAnythingIsCompiled() throws IOException {
    RtlSource source = RtlSource.of(Path.of("src/test/rtl/gear_train.sv"));
    Toolchain.find(); // Looks for its programs the first time.

    ProcessCount.Made<ToolchainException> made =
        ProcessCount.during(
            () -> assertThrows(ToolchainException.class, () -> CacheInTest.find(mount, source)));

    String message = made.value().getMessage();
    assertTrue(message.startsWith("The cache folder " + mount), message);
    assertTrue(message.contains("mounted \"noexec\""), message);
    assertTrue(message.endsWith("name another by -Dplumbline.cache=FOLDER."), message);
    assertEquals(List.of(), made.commands(), "nothing is started for it");
  }
}
