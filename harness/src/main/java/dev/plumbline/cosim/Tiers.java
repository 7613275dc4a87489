package dev.plumbline.cosim;

import dev.plumbline.rtl.RtlException;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.toolchain.DesignBuilder;
import dev.plumbline.toolchain.DesignLibrary;
import dev.plumbline.toolchain.ToolchainException;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.atomic.AtomicLong;

/**
 * The library that a design's models are opened from: the one that was compiled first, until a fast
 * one is there, where that is wanted ({@link BuildOptions.Optimisation#LATER}).
 *
 * <p>A fast one is made once models of the design have run for about as long as making it takes, so
 * that one that runs briefly never pays for it, and one that runs for long at most twice.
 */
final class Tiers {
  /** Nanoseconds of compiling for each byte of the first library. */
  private static final long NANOS_A_BYTE = 2_000;

  // One at a time: the other processors have the models to run.
  static final ExecutorService BESIDE =
      Executors.newSingleThreadExecutor(
          task -> {
            Thread thread = new Thread(task, "plumbline-optimises");
            thread.setDaemon(true);
            return thread;
          });

  private final RtlSource source;
  private final BuildOptions options;
  private final DesignLibrary first;
  private final AtomicLong ran = new AtomicLong();
  private boolean built;
  private volatile long worth = Long.MAX_VALUE; // how long models have to have run
  private Future<?> making; // null until it begins
  private volatile Path fast; // null until it is there

  Tiers(RtlSource source, BuildOptions options, DesignLibrary first) {
    this.source = source;
    this.options = options;
    this.first = first;
    this.built = !DesignBuilder.isCompiledLater(first.design());
  }

  /** The library's file; compiled only now where the design has several clocks. */
  Path file() {
    Path better = fast;
    return better != null ? better : firstFile();
  }

  private synchronized Path firstFile() {
    if (!built) {
      // Named by its content, so another name is another design.
      if (!DesignBuilder.build(source, options).file().equals(first.file())) {
        throw new ToolchainException(
            "The source of module "
                + first.design().top()
                + " was changed after it was read and before it was opened; run it again");
      }
      built = true;
    }
    if (worth == Long.MAX_VALUE && isLater()) {
      worth = NANOS_A_BYTE * size(first.file());
    }
    return first.file();
  }

  private static long size(Path file) {
    try {
      return Files.size(file);
    } catch (IOException e) {
      return Integer.MAX_VALUE; // somebody has removed it; whoever opens it says so
    }
  }

  private boolean isLater() {
    return options.optimisation() == BuildOptions.Optimisation.LATER && !options.internals();
  }

  /** Takes note that a model ran for so many nanoseconds. */
  void ran(long nanos) {
    if (fast == null && ran.addAndGet(nanos) >= worth) {
      Future<?> unused = optimise(); // whoever opens a DUT next looks whether it is there
    }
  }

  /** Has the fast library made, once. */
  synchronized Future<?> optimise() {
    if (making == null) {
      making = BESIDE.submit(this::make);
    }
    return making;
  }

  /** Whether the fast library is being made, or was. */
  synchronized boolean isUnderWay() {
    return making != null;
  }

  private void make() {
    try {
      DesignLibrary made = DesignBuilder.optimise(source, options);
      // The source may be another by now; whoever runs that has models of their own.
      if (made.contentHash().equals(first.contentHash())) {
        fast = made.file();
      }
    } catch (RtlException | ToolchainException e) {
      // Edited meanwhile, or no room for it: the first library does as well, only slower.
    }
  }
}
