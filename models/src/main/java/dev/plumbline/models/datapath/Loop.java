package dev.plumbline.models.datapath;

import dev.plumbline.models.rows.RowCode;
import java.util.function.Consumer;
import java.util.stream.Stream;

/** What one step does to a block of cases, bound to its columns when an evaluation is made. */
@FunctionalInterface
interface Loop {
  /** For steps whose columns are filled by someone else. */
  Loop NOTHING = of(count -> {}, code -> {});

  void run(int count);

  /** Tells what is done to a row; most steps can. */
  default void tell(RowCode code) {
    code.cannotSay();
  }

  /** One that sets a column of whole numbers to what an expression of {@link RowCode} says. */
  static Loop of(Loop loop, long[] out, String expression, Object... parts) {
    return of(loop, code -> code.set(out, expression, parts));
  }

  /** The same of doubles. */
  static Loop of(Loop loop, double[] out, String expression, Object... parts) {
    return of(loop, code -> code.set(out, expression, parts));
  }

  /** One that is told in a way of its own. */
  static Loop of(Loop loop, Consumer<RowCode> told) {
    return new Told(loop, told);
  }

  /** One after the other; what is itself several is taken apart, so that no call is for a call. */
  static Loop all(Loop... loops) {
    return new InTurn(Stream.of(loops).flatMap(Loop::parts).toArray(Loop[]::new));
  }

  private static Stream<Loop> parts(Loop loop) {
    if (loop instanceof InTurn several) {
      return Stream.of(several.loops);
    }
    return loop == NOTHING ? Stream.empty() : Stream.of(loop);
  }

  /** A loop that can be told. */
  record Told(Loop loop, Consumer<RowCode> told) implements Loop {
    @Override
    public void run(int count) {
      loop.run(count);
    }

    @Override
    public void tell(RowCode code) {
      told.accept(code);
    }
  }

  /** Several loops. */
  final class InTurn implements Loop {
    private final Loop[] loops;
    private final Loop[] bare; // without a call for what can be told

    private InTurn(Loop[] loops) {
      this.loops = loops;
      this.bare =
          Stream.of(loops)
              .map(loop -> loop instanceof Told told ? told.loop : loop)
              .toArray(Loop[]::new);
    }

    @Override
    public void run(int count) {
      for (Loop loop : bare) {
        loop.run(count);
      }
    }

    @Override
    public void tell(RowCode code) {
      for (Loop loop : loops) {
        loop.tell(code);
      }
    }
  }
}
