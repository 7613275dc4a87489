package dev.plumbline.check;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.Supplier;

/**
 * Runs all stretches of a run on some threads. What it sums up are the stretches up to the first
 * that fails, whatever the number of threads.
 */
final class StretchPool {
  /** Native code keeps function-local arrays on the stack; a Java thread's own is small. */
  private static final long STACK_BYTES = 64L << 20;

  private final long runSeed;
  private final long cases;
  private final long stretches;
  private final Supplier<StretchRunner> runners;
  private final AtomicLong next = new AtomicLong();
  private final AtomicLong firstFailing = new AtomicLong(Long.MAX_VALUE);
  private final Map<Long, Object> waiting = new HashMap<>(); // done, but not those before it
  private final Totals totals;
  private long summed;

  StretchPool(long runSeed, long cases, Totals totals, Supplier<StretchRunner> runners) {
    this.runSeed = runSeed;
    this.cases = cases;
    this.stretches = (cases + Stretch.CASES - 1) / Stretch.CASES;
    this.runners = runners;
    this.totals = totals;
  }

  Totals run(int threads) throws InterruptedException {
    List<Thread> workers = new ArrayList<>();
    for (int i = 0; i < Math.min(threads, stretches); i++) {
      Thread worker = new Thread(null, this::work, "plumbline-stretches-" + i, STACK_BYTES);
      worker.setDaemon(true);
      workers.add(worker);
      worker.start();
    }
    try {
      for (Thread worker : workers) {
        worker.join();
      }
    } catch (InterruptedException e) {
      firstFailing.set(-1); // no further stretch; those under way end by themselves
      throw e;
    }
    return totals;
  }

  private void work() {
    StretchRunner runner = null;
    for (long number = next.getAndIncrement();
        number < stretches && number <= firstFailing.get();
        number = next.getAndIncrement()) {
      Object outcome;
      try {
        if (runner == null) {
          runner = runners.get();
        }
        outcome = runner.run(Stretch.of(runSeed, number, cases));
      } catch (RuntimeException | Error e) {
        outcome = e;
      }
      if (outcome instanceof Throwable || ((StretchRunner.Result) outcome).tally().mismatches > 0) {
        firstFailing.accumulateAndGet(number, Math::min);
      }
      sumUp(number, outcome);
    }
  }

  private synchronized void sumUp(long number, Object outcome) {
    waiting.put(number, outcome);
    while (waiting.containsKey(summed) && !totals.isOver()) {
      Object done = waiting.remove(summed);
      if (done instanceof StretchRunner.Result result) {
        totals.add(result);
      } else {
        totals.end((Throwable) done);
      }
      summed++;
    }
  }
}
