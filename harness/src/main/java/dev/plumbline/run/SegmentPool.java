package dev.plumbline.run;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.Supplier;

/**
 * Runs all segments of a run on some threads. What it sums up are the segments up to the first that
 * fails, whatever the number of threads.
 *
 * <pre>{@code
 * new SegmentPool<Result>(segments, totals, () -> new MyRunner()::run).run(2);
 * }</pre>
 *
 * @param <R> what comes of a segment
 */
public final class SegmentPool<R> {
  /** Native code keeps function-local arrays on the stack; a Java thread's own is small. */
  private static final long STACK_BYTES = 64L << 20;

  /**
   * Runs segments for one thread.
   *
   * @param <R> what comes of a segment
   */
  @FunctionalInterface
  public interface Runner<R> {
    /**
     * Runs one.
     *
     * @param number from 0
     * @return what came of it
     */
    R run(long number);
  }

  /**
   * What segments are summed up in: each is reported once, in the order of their numbers.
   *
   * @param <R> what comes of a segment
   */
  public interface Sum<R> {
    /**
     * Whether a segment is the last that counts; asked by any thread.
     *
     * @param result what came of it
     * @return true when it fails
     */
    boolean isFailure(R result);

    /**
     * Adds the next segment.
     *
     * @param result what came of it
     */
    void add(R result);

    /**
     * Ends the sum with a segment that threw.
     *
     * @param thrown what
     */
    void end(Throwable thrown);

    /**
     * Whether nothing more counts.
     *
     * @return true after a failure or an end
     */
    boolean isOver();
  }

  private final long segments;
  private final Sum<R> sum;
  private final Supplier<Runner<R>> runners;
  private final AtomicLong next = new AtomicLong();
  private final AtomicLong firstFailing = new AtomicLong(Long.MAX_VALUE);

  /** How to sum up segments that are done while some before them are not. */
  private final Map<Long, Runnable> waiting = new HashMap<>();

  private long summed;

  /**
   * A pool that is run once.
   *
   * @param segments how many there are
   * @param sum what they are summed up in
   * @param runners makes a runner for a thread
   */
  public SegmentPool(long segments, Sum<R> sum, Supplier<Runner<R>> runners) {
    this.segments = segments;
    this.sum = sum;
    this.runners = runners;
  }

  /**
   * Runs all segments, or those up to the first that fails.
   *
   * @param threads how many at a time, 1 or more
   * @throws InterruptedException when this thread is interrupted; segments under way end by
   *     themselves
   */
  public void run(int threads) throws InterruptedException {
    List<Thread> workers = new ArrayList<>();
    for (int i = 0; i < Math.min(threads, segments); i++) {
      Thread worker = new Thread(null, this::work, "plumbline-segments-" + i, STACK_BYTES);
      worker.setDaemon(true);
      workers.add(worker);
      worker.start();
    }
    try {
      for (Thread worker : workers) {
        worker.join();
      }
    } catch (InterruptedException e) {
      firstFailing.set(-1); // no further segment; those under way end by themselves
      throw e;
    }
  }

  private void work() {
    Runner<R> runner = null;
    for (long number = next.getAndIncrement();
        number < segments && number <= firstFailing.get();
        number = next.getAndIncrement()) {
      Runnable report;
      boolean fails;
      try {
        if (runner == null) {
          runner = runners.get();
        }
        R result = runner.run(number);
        fails = sum.isFailure(result);
        report = () -> sum.add(result);
      } catch (RuntimeException | Error e) {
        fails = true;
        report = () -> sum.end(e);
      }
      if (fails) {
        firstFailing.accumulateAndGet(number, Math::min);
      }
      sumUp(number, report);
    }
  }

  private synchronized void sumUp(long number, Runnable report) {
    waiting.put(number, report);
    while (waiting.containsKey(summed) && !sum.isOver()) {
      waiting.remove(summed).run();
      summed++;
    }
  }
}
