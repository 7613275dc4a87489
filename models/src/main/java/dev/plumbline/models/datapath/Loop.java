package dev.plumbline.models.datapath;

import java.util.stream.Stream;

/** What one step does to a block of cases, bound to its columns when an evaluation is made. */
@FunctionalInterface
interface Loop {
  /** For steps whose columns are filled by someone else. */
  Loop NOTHING = count -> {};

  void run(int count);

  static Loop all(Loop... loops) {
    Loop[] busy = Stream.of(loops).filter(loop -> loop != NOTHING).toArray(Loop[]::new);
    return count -> {
      for (Loop loop : busy) {
        loop.run(count);
      }
    };
  }
}
