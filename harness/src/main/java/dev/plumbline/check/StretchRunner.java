package dev.plumbline.check;

import java.util.List;
import java.util.Optional;

/** Runs stretches one after the other for one thread. */
final class StretchRunner {
  private final Binding binding;
  private final Settings settings;
  private final Engine.Maker maker;
  private final Reference.Evaluation evaluation;
  private final SituationCounter counter; // null where nobody asks

  /**
   * What came of a stretch: its counts, the situations it met (none where nobody asked), how many
   * cycles it took, what the DUT printed.
   */
  record Result(Stretch stretch, Tally tally, List<Long> met, long cycles, String text) {}

  /** Looks over the shoulder of the referee, block by block; bulk runs have none. */
  @FunctionalInterface
  interface Watcher {
    void block(long firstRow, Feed feed, Referee referee);

    /** Whether it wants to see more than the rows so far; the stretch is not run farther if not. */
    default boolean wantsMore(long rowsSoFar) {
      return true;
    }
  }

  /** Runs stretches without regard to situations. */
  StretchRunner(Binding binding, Settings settings, Engine.Maker maker) {
    this(binding, settings, maker, Optional.empty());
  }

  StretchRunner(
      Binding binding, Settings settings, Engine.Maker maker, Optional<Situations> situations) {
    this.binding = binding;
    this.settings = settings;
    this.maker = maker;
    Reference reference = binding.contract().reference();
    Reference.Evaluation plain = reference.open(Feed.BLOCK);
    this.counter =
        situations.map(asked -> new SituationCounter(asked, reference, plain)).orElse(null);
    this.evaluation = counter == null ? plain : counter;
  }

  Result run(Stretch stretch) {
    return run(stretch, (firstRow, feed, referee) -> {});
  }

  Result run(Stretch stretch, Watcher watcher) {
    Contract.Flow flow = binding.contract().flow();
    try (Engine engine = open(stretch)) {
      Feed feed = new FeedSetup(binding, settings, stretch, engine, evaluation).open();
      Referee referee =
          flow.isFixed()
              ? new FixedReferee(binding.checks(), flow.mostLatency(), Feed.BLOCK)
              : new StreamReferee(binding.checks(), flow);
      long row = 0;
      while (!referee.isStuck() && watcher.wantsMore(row) && feed.next(referee.outstanding())) {
        referee.block(feed);
        watcher.block(row, feed, referee);
        row += feed.rows;
      }
      List<Long> met = counter == null ? List.of() : counter.take();
      return new Result(stretch, referee.tally(), met, row, engine.text());
    }
  }

  private Engine open(Stretch stretch) {
    Engine engine = maker.open(stretch.start(), stretch.stateSeed(), binding.contract());
    return binding.needsPacking() ? new PackingEngine(engine, binding) : engine;
  }
}
