package dev.plumbline.cosim;

import java.time.Duration;
import java.util.HashSet;
import java.util.Set;

/**
 * Ends calls that make no progress. One daemon thread looks at every open model eight times within
 * its timeout; eight looks in a row without progress end the call. Looks are counted instead of
 * time, since a machine that slept has lost time but no model has hung.
 */
final class Watchdog {
  private static final int LOOKS = 8;
  private static final Watchdog ONLY = new Watchdog();

  private final Set<Watched> all = new HashSet<>();

  /** An open model under watch. */
  private static final class Watched {
    private final ControlBlock control;
    private final LiveDesign instance;
    private final long period;
    private long nextLook;
    private long progress;
    private int looks;

    private Watched(LiveDesign instance, Duration timeout) {
      this.control = instance.control();
      this.instance = instance;
      this.period = Math.max(1, timeout.toNanos() / LOOKS);
      this.nextLook = System.nanoTime() + period;
    }

    private void look(long now) {
      if (now - nextLook < 0) {
        return;
      }
      nextLook = now + period;
      long latest = control.progress();
      if (!control.active() || latest != progress) {
        progress = latest;
        looks = 0;
      } else if (++looks >= LOOKS) {
        // Who does not give up at once is asked again, and then not politely.
        looks = LOOKS - 2;
        instance.cancel(progress);
      }
    }
  }

  private Watchdog() {
    Thread thread = new Thread(this::watch, "plumbline watchdog");
    thread.setDaemon(true);
    thread.start();
  }

  /** Begins to watch a model; returns what ends the watch. */
  static Runnable watch(LiveDesign instance, Duration timeout) {
    Watched watched = new Watched(instance, timeout);
    ONLY.add(watched);
    return () -> ONLY.remove(watched);
  }

  private synchronized void add(Watched watched) {
    all.add(watched);
    notifyAll();
  }

  private synchronized void remove(Watched watched) {
    all.remove(watched);
  }

  private synchronized void watch() {
    try {
      while (true) {
        long now = System.nanoTime();
        long soonest = Long.MAX_VALUE;
        for (Watched watched : all) {
          watched.look(now);
          soonest = Math.min(soonest, watched.nextLook - now);
        }
        // A model that is added wakes this up; nothing else needs it.
        if (all.isEmpty()) {
          wait();
        } else {
          wait(Math.max(1, soonest / 1_000_000));
        }
      }
    } catch (InterruptedException e) {
      // Nobody else has this thread; if somebody does interrupt it, the watch is over.
    }
  }
}
