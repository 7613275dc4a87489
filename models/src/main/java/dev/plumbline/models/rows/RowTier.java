package dev.plumbline.models.rows;

import java.util.Optional;
import java.util.ServiceLoader;
import java.util.function.Supplier;

/**
 * Machine code in the place of loops over columns, once they have run for long enough and there is
 * some. It gives the same bits: nothing but the speed tells which of the two ran.
 *
 * <pre>{@code
 * if (!tier.run(0, count)) {
 *   loops.run(count);
 * }
 * }</pre>
 */
public final class RowTier {
  private static final int ASKED_EVERY = 1 << 16; // rows, at last
  private static final Optional<RowCompiler> FOUND =
      ServiceLoader.load(RowCompiler.class, RowCompiler.class.getClassLoader()).findFirst();

  private static final ThreadLocal<Optional<RowCompiler>> ASKED =
      ThreadLocal.withInitial(() -> FOUND);

  private final Supplier<Optional<RowProgram>> told;
  private final Optional<RowCompiler> compiler;
  private RowProgram program; // null until it is wanted
  private RowRunner runner; // null while there is none
  private long rows; // that loops have run
  private long next; // to ask at

  /**
   * Machine code by whoever compiles here; none where there is nobody.
   *
   * @param told tells what the loops do, once they have run; asked once
   */
  public RowTier(Supplier<Optional<RowProgram>> told) {
    this.told = told;
    this.compiler = ASKED.get();
    this.next = compiler.map(RowCompiler::firstAsked).orElse(Long.MAX_VALUE);
  }

  /**
   * Has what is made by this thread meanwhile ask another compiler.
   *
   * @param <T> what is made
   * @param compiler that is asked
   * @param making makes what has tiers
   * @return what was made
   */
  public static <T> T asking(RowCompiler compiler, Supplier<T> making) {
    ASKED.set(Optional.of(compiler));
    try {
      return making.get();
    } finally {
      ASKED.remove();
    }
  }

  /**
   * Runs the machine code, if there is any.
   *
   * @param state what the program calls so
   * @param count rows
   * @return false where nothing was done, for the loops to do it
   */
  public boolean run(long state, int count) {
    if (runner == null && rows >= next) {
      ask();
    }
    if (runner == null) {
      rows += count;
      return false;
    }
    runner.run(state, count);
    return true;
  }

  private void ask() {
    next = Math.min(2 * rows, rows + ASKED_EVERY);
    if (program == null) {
      program = told.get().orElse(null);
    }
    if (program == null) {
      next = Long.MAX_VALUE;
    } else {
      runner = compiler.orElseThrow().find(program, rows).orElse(null);
    }
  }
}
