package dev.plumbline.lockstep;

import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;

/**
 * Time that a look at a mismatch may take: so much of the processor's in this thread, so that what
 * is found does not depend on what else the machine does, and at most four times as much in all.
 */
final class LookBudget {
  private static final int MOST_IN_ALL = 4;
  private static final ThreadMXBean THREADS = ManagementFactory.getThreadMXBean();

  private final long nanoseconds;
  private final long started = System.nanoTime();
  private final long begun = used();

  private LookBudget(long nanoseconds) {
    this.nanoseconds = nanoseconds;
  }

  /** From now on. */
  static LookBudget ofSeconds(int seconds) {
    return new LookBudget(seconds * 1_000_000_000L);
  }

  /** The processor's time of this thread; that of a clock where it is not counted. */
  private static long used() {
    return THREADS.isCurrentThreadCpuTimeSupported()
        ? THREADS.getCurrentThreadCpuTime()
        : System.nanoTime();
  }

  boolean isOver() {
    return isOver(1);
  }

  /** Whether a share of it is over, from 0 to 1. */
  boolean isOver(double share) {
    long inAll = System.nanoTime() - started;
    return inAll > nanoseconds * share
        && (used() - begun > nanoseconds * share || inAll > MOST_IN_ALL * nanoseconds * share);
  }
}
