package dev.plumbline.report;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Duration;
import java.util.concurrent.locks.LockSupport;

/** Lets one thread of one process at a time change the files of a run. */
final class RunLock {
  private static final Object IN_THIS_PROCESS = new Object();
  private static final Duration ASKED_EVERY = Duration.ofMillis(5);

  /** Tells a run's folder from others, too. */
  private static final String FILE = ".lock";

  private RunLock() {}

  /** Something done while the lock is held. */
  @FunctionalInterface
  interface Action<T> {
    T run() throws IOException;
  }

  static <T> T hold(Path folder, Action<T> action) throws IOException {
    synchronized (IN_THIS_PROCESS) { // a file lock holds between processes only
      Files.createDirectories(folder);
      try (FileChannel channel =
          FileChannel.open(
              folder.resolve(FILE), StandardOpenOption.CREATE, StandardOpenOption.WRITE)) {
        // Asked for, not waited for: the system takes the threads of a process for one, and may see
        // a circle of waits with other locks where there is none. Given back by closing.
        while (channel.tryLock() == null) {
          LockSupport.parkNanos(ASKED_EVERY.toNanos());
        }
        return action.run();
      }
    }
  }

  /** Does something where a run's folder is, and nobody is at work on it. */
  static void holdIfFree(Path folder, Action<?> action) throws IOException {
    synchronized (IN_THIS_PROCESS) {
      if (!Files.isRegularFile(folder.resolve(FILE))) {
        return;
      }
      try (FileChannel channel = FileChannel.open(folder.resolve(FILE), StandardOpenOption.WRITE)) {
        if (channel.tryLock() != null) {
          action.run();
        }
      }
    }
  }
}
