package dev.plumbline.check;

/** Runs stretches one after the other for one thread. */
final class StretchRunner {
  private final Binding binding;
  private final Settings settings;
  private final Engine.Maker maker;
  private final Reference.Evaluation evaluation;

  /** What came of a stretch: its counts, how many cycles it took, what the DUT printed. */
  record Result(Stretch stretch, Tally tally, long cycles, String text) {}

  /** Looks over the shoulder of the referee, block by block; bulk runs have none. */
  @FunctionalInterface
  interface Watcher {
    void block(long firstRow, Feed feed, Referee referee);
  }

  StretchRunner(Binding binding, Settings settings, Engine.Maker maker) {
    this.binding = binding;
    this.settings = settings;
    this.maker = maker;
    this.evaluation = binding.contract().reference().open(Feed.BLOCK);
  }

  Result run(Stretch stretch) {
    return run(stretch, (firstRow, feed, referee) -> {});
  }

  Result run(Stretch stretch, Watcher watcher) {
    Contract.Flow flow = binding.contract().flow();
    try (Engine engine = open(stretch)) {
      Feed feed =
          flow.inReady() == null
              ? new RowFeed(binding, settings, stretch, engine, evaluation)
              : new CaseFeed(binding, settings, stretch, engine, evaluation);
      Referee referee =
          flow.isFixed()
              ? new FixedReferee(binding.checks(), flow.mostLatency(), Feed.BLOCK)
              : new StreamReferee(binding.checks(), flow);
      long row = 0;
      while (!referee.isStuck() && feed.next(referee.outstanding())) {
        referee.block(feed);
        watcher.block(row, feed, referee);
        row += feed.rows;
      }
      return new Result(stretch, referee.tally(), row, engine.text());
    }
  }

  private Engine open(Stretch stretch) {
    Engine engine = maker.open(stretch.start(), stretch.stateSeed(), binding.contract());
    return binding.needsPacking() ? new PackingEngine(engine, binding) : engine;
  }
}
