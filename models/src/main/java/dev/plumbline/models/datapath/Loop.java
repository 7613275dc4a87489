package dev.plumbline.models.datapath;

/** What one step does to a block of cases, bound to its columns when an evaluation is made. */
@FunctionalInterface
interface Loop {
  /** For steps whose columns are filled by someone else. */
  Loop NOTHING = count -> {};

  void run(int count);

  static Loop all(Loop... loops) {
    return count -> {
      for (Loop loop : loops) {
        loop.run(count);
      }
    };
  }
}
