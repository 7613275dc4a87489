package dev.plumbline.toolchain;

import com.sun.management.OperatingSystemMXBean;
import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.LongSupplier;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.LongStream;

/**
 * Memory that the programs under way take together, each with those that it has started. Where that
 * is more than they may have, the largest is ended, before the machine has to end something else.
 *
 * <p>Half of the machine's or container's memory, unless {@code -Dplumbline.tools.megabytes} says
 * otherwise. Looks at the system's table of processes, which Linux alone has as files; elsewhere
 * nothing is watched.
 */
final class ToolMemory {
  static final String PROPERTY = "plumbline.tools.megabytes";

  /** Of all programs that this process starts. */
  static final ToolMemory SHARED = new ToolMemory(() -> bytes(System.getProperty(PROPERTY, "")));

  private static final long MEGABYTE = 1 << 20;
  private static final int LOOK_MS = 50;
  private static final Pattern RESIDENT = Pattern.compile("(?m)^VmRSS:\\s*(\\d{1,12}) kB");
  private static final Path PROCESSES = Path.of("/proc");

  private final LongSupplier most;
  private final Map<Process, Long> programs = new ConcurrentHashMap<>(); // what it was ended at
  private Thread watch; // null while there is nothing to watch

  /** Of a limit in bytes. */
  ToolMemory(LongSupplier most) {
    this.most = most;
  }

  /** What they may have, in bytes; refuses a property that says nothing sensible. */
  long most() {
    return most.getAsLong();
  }

  /** What a limit in megabytes comes to; half of all memory where there is none. */
  static long bytes(String text) {
    if (text.isBlank()) {
      return ((OperatingSystemMXBean) ManagementFactory.getOperatingSystemMXBean())
              .getTotalMemorySize()
          / 2;
    }
    if (!text.strip().matches("0*[1-9][0-9]{0,8}")) {
      throw new ToolchainException(
          "Property "
              + PROPERTY
              + " cannot be \""
              + text
              + "\"; a whole number of megabytes is allowed, 1 to 999999999");
    }
    return Long.parseLong(text.strip()) * MEGABYTE;
  }

  /** Watches a program from here on. */
  void add(Process program) {
    programs.put(program, 0L);
    if (Files.isDirectory(PROCESSES.resolve("self"))) {
      watch();
    }
  }

  private synchronized void watch() {
    if (watch == null) {
      watch = new Thread(this::run, "plumbline-memory");
      watch.setDaemon(true);
      watch.start();
    }
  }

  /** Watches it no more; gives what it took where it was ended for that, in bytes, else 0. */
  long remove(Process program) {
    Long took = programs.remove(program);
    return took == null ? 0 : took;
  }

  private void run() {
    try {
      do {
        Thread.sleep(LOOK_MS);
        look();
      } while (goesOn());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt(); // by nobody here
    }
  }

  private synchronized boolean goesOn() {
    if (programs.isEmpty()) {
      watch = null;
    }
    return watch != null;
  }

  private void look() {
    long together = 0;
    long most = 0;
    Process largest = null;
    for (Process program : programs.keySet()) {
      long bytes = resident(program.pid());
      together += bytes;
      if (largest == null || bytes > most) {
        largest = program;
        most = bytes;
      }
    }
    if (largest != null && together > most()) {
      long took = most;
      programs.computeIfPresent(largest, (program, before) -> took);
      Unfinished.destroy(largest);
    }
  }

  /** Memory of a program and those that it has started, in bytes; 0 when it is over. */
  private static long resident(long program) {
    Path place = PROCESSES.resolve(Long.toString(program));
    Matcher kilobytes = RESIDENT.matcher(text(place.resolve("status")));
    long own = kilobytes.find() ? Long.parseLong(kilobytes.group(1)) << 10 : 0;
    return own + started(program, place).map(ToolMemory::resident).sum();
  }

  private static LongStream started(long program, Path place) {
    Path children = place.resolve("task").resolve(Long.toString(program)).resolve("children");
    if (Files.exists(children)) {
      return Pattern.compile("\\d+")
          .matcher(text(children))
          .results()
          .mapToLong(child -> Long.parseLong(child.group()));
    }
    return ProcessHandle.of(program).stream() // a kernel without that file; this takes longer
        .flatMap(ProcessHandle::children)
        .mapToLong(ProcessHandle::pid);
  }

  private static String text(Path file) {
    try {
      return Files.readString(file, StandardCharsets.ISO_8859_1);
    } catch (IOException e) {
      return ""; // it is over
    }
  }

  /** Says that a program was ended for what it took. */
  static ToolchainException exhausted(String program, String what, long took, long most) {
    return new ToolchainException(
        program
            + " took "
            + took / MEGABYTE
            + " MB of memory for "
            + what
            + " and was ended; the programs that Plumbline starts may have "
            + most / MEGABYTE
            + " MB together. Make what is very wide, long or often repeated in the design smaller,"
            + " build fewer designs at a time, or allow more by -D"
            + PROPERTY
            + "=N");
  }
}
