package dev.plumbline.report;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;

/** Lets one thread of one process at a time change the files of a run. */
final class RunLock {
  private static final Object IN_THIS_PROCESS = new Object();

  private RunLock() {}

  /** Something done while the lock is held. */
  @FunctionalInterface
  interface Action {
    void run() throws IOException;
  }

  static void hold(Path folder, Action action) throws IOException {
    synchronized (IN_THIS_PROCESS) { // a file lock holds between processes only
      Files.createDirectories(folder);
      try (FileChannel channel =
          FileChannel.open(
              folder.resolve(".lock"), StandardOpenOption.CREATE, StandardOpenOption.WRITE)) {
        channel.lock(); // given back when the channel closes
        action.run();
      }
    }
  }
}
