package dev.plumbline.models.datapath;

import java.util.stream.Stream;

/** What one step does to a block of cases, bound to its columns when an evaluation is made. */
@FunctionalInterface
interface Loop {
  /** For steps whose columns are filled by someone else. */
  Loop NOTHING = count -> {};

  void run(int count);

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

  /** Several loops. */
  final class InTurn implements Loop {
    private final Loop[] loops;

    private InTurn(Loop[] loops) {
      this.loops = loops;
    }

    @Override
    public void run(int count) {
      for (Loop loop : loops) {
        loop.run(count);
      }
    }
  }
}
