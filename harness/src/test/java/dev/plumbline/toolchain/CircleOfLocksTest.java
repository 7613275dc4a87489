package dev.plumbline.toolchain;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Two processes, in each of which one thread holds a lock of the cache and another waits for the
 * one that the other process holds: no thread waits in a circle, but to the system (fcntl, which
 * knows processes alone) it looks as if.
 */
@Tag("thorough")
class CircleOfLocksTest {
  private static final long HELD = 1_500;

  /** Holds one lock in a thread until both processes wait for the other's, and asks for another. */
  public static final class Holder {
    private Holder() {}

    /** Folder, the lock it holds, the lock it asks for. */
    public static void main(String[] args) throws InterruptedException {
      Path folder = Path.of(args[0]);
      CacheFolder cache = CacheFolder.at(folder.resolve("cache"));
      Thread holder = new Thread(() -> cache.locked(args[1], "moon", work -> hold(folder, args)));
      holder.start();
      while (!Files.exists(folder.resolve(args[1])) || !Files.exists(folder.resolve(args[2]))) {
        Thread.sleep(5);
      }
      cache.locked(args[2], "moon", work -> work);
      holder.join();
    }

    private static Path hold(Path folder, String[] args) throws IOException {
      Path held = Files.createFile(folder.resolve(args[1]));
      try {
        while (!Files.exists(folder.resolve(args[2]))) {
          Thread.sleep(5);
        }
        Thread.sleep(HELD);
      } catch (InterruptedException e) {
        throw new IOException(e);
      }
      return held;
    }
  }

  private static Process start(Path folder, String first, String second) throws IOException {
    return new ProcessBuilder(
            List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-cp",
                System.getProperty("java.class.path"),
                Holder.class.getName(),
                folder.toString(),
                first,
                second))
        .redirectErrorStream(true)
        .start();
  }

  @Test
  void whatOnlyLooksLikeOneIsWaitedFor(@TempDir Path folder) throws Exception {
    List<Process> both = new ArrayList<>();
    both.add(start(folder, "sun", "planet"));
    both.add(start(folder, "planet", "sun"));
    for (Process process : both) {
      String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
      process.waitFor(1, TimeUnit.MINUTES);
      assertEquals("0: ", process.exitValue() + ": " + said);
    }
  }
}
