package dev.plumbline.models;

import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import com.sun.management.ThreadMXBean;
import java.lang.management.ManagementFactory;

/** What a thread allocates. */
public final class Allocations {
  private Allocations() {}

  /** Throws when a run over so many cases, made once before, allocates anything for a case. */
  public static void requireNone(int cases, Runnable run) {
    assumeTrue(ManagementFactory.getThreadMXBean() instanceof ThreadMXBean);
    ThreadMXBean threads = (ThreadMXBean) ManagementFactory.getThreadMXBean();
    long thread = Thread.currentThread().getId();
    run.run();
    long before = threads.getThreadAllocatedBytes(thread);
    for (int i = 0; i < 20; i++) {
      run.run();
    }
    long bytes = threads.getThreadAllocatedBytes(thread) - before;
    // The smallest object takes 16 bytes; the measurement itself and the JVM may take a few.
    assertTrue(bytes < 20L * cases, bytes + " bytes in 20 runs of " + cases + " cases");
  }
}
