package dev.plumbline.toolchain;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;

/**
 * Programs under way and the folders they work in: a JVM that is told to end, by Ctrl-C or because
 * all else is done, ends the ones and removes the others.
 */
final class Unfinished {
  private static final int SECONDS_TO_DIE = 5;

  private static final Set<Process> PROGRAMS = ConcurrentHashMap.newKeySet();
  private static final Set<Path> FOLDERS = ConcurrentHashMap.newKeySet();
  private static volatile boolean ending;

  static {
    try {
      Runtime.getRuntime().addShutdownHook(new Thread(Unfinished::end, "plumbline-unfinished"));
    } catch (IllegalStateException e) {
      ending = true; // too late for a hook, and for any program
    }
  }

  private Unfinished() {}

  /** Takes in a program that was just started; ends it where all is about to end. */
  static void add(Process program) {
    PROGRAMS.add(program);
    if (ending) {
      destroy(program);
    }
  }

  static void remove(Process program) {
    PROGRAMS.remove(program);
  }

  static void add(Path folder) {
    FOLDERS.add(folder);
  }

  static void remove(Path folder) {
    FOLDERS.remove(folder);
  }

  private static void end() {
    ending = true;
    PROGRAMS.forEach(Unfinished::destroy);
    for (Path folder : FOLDERS) {
      try {
        CacheFolder.remove(folder);
      } catch (IOException e) {
        // Whoever takes the folder's lock next removes what is left.
      }
    }
  }

  /** Ends a program and those that it started: a compiler's driver has others do the work. */
  static void destroy(Process program) {
    Stream<ProcessHandle> all = Stream.concat(program.descendants(), Stream.of(program.toHandle()));
    List<ProcessHandle> handles = all.toList();
    handles.forEach(ProcessHandle::destroyForcibly);
    try {
      program.waitFor(SECONDS_TO_DIE, TimeUnit.SECONDS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
