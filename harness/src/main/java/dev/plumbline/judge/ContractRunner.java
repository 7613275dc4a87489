package dev.plumbline.judge;

import dev.plumbline.contract.CoveragePoints;
import dev.plumbline.contract.Flow;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.DutException;
import dev.plumbline.drive.Binding;
import dev.plumbline.drive.CoverageCounter;
import dev.plumbline.drive.Engine;
import dev.plumbline.drive.Feed;
import dev.plumbline.drive.FeedSetup;
import dev.plumbline.drive.Handshake;
import dev.plumbline.drive.KeptSource;
import dev.plumbline.drive.PackingEngine;
import dev.plumbline.drive.Script;
import dev.plumbline.drive.Segment;
import dev.plumbline.drive.Settings;
import dev.plumbline.drive.SteeredStimulus;
import java.util.List;
import java.util.Optional;

/** Runs segments of a contract's cases. */
public final class ContractRunner implements SegmentRunner {
  private final Binding binding;
  private final Settings settings;
  private final Engine.Maker maker;
  private final Reference.Evaluation evaluation;
  private final KeptSource source = new KeptSource();
  private final CoverageCounter counter; // null where nobody asks

  /** Watches the checker, block by block; bulk runs have none. */
  @FunctionalInterface
  public interface Watcher {
    void block(long firstRow, Feed feed, Checker checker);

    /** Whether it wants to see more than the rows so far; the segment is not run farther if not. */
    default boolean wantsMore(long rowsSoFar) {
      return true;
    }

    /** The DUT ended by itself in the block that begins at a row, before that was looked at. */
    default void ended(long firstRow, Feed feed, Checker checker, DutException end) {}
  }

  /** Runs segments without regard to coverage points. */
  public ContractRunner(Binding binding, Settings settings, Engine.Maker maker) {
    this(binding, settings, maker, Optional.empty());
  }

  public ContractRunner(
      Binding binding, Settings settings, Engine.Maker maker, Optional<CoveragePoints> coverage) {
    this.binding = binding;
    this.settings = settings;
    this.maker = maker;
    Reference reference = binding.contract().reference();
    Reference.Evaluation plain = reference.open(Feed.BLOCK);
    this.counter = coverage.map(asked -> new CoverageCounter(asked, reference, plain)).orElse(null);
    this.evaluation = counter == null ? plain : counter;
  }

  /** The same, held to another promise of when results come. */
  public ContractRunner within(Flow flow) {
    return new ContractRunner(binding.within(flow), settings, maker);
  }

  @Override
  public Result run(Segment segment) {
    return run(segment, (firstRow, feed, checker) -> {});
  }

  public Result run(Segment segment, Watcher watcher) {
    return run(settings, segment, watcher);
  }

  /** Plays a script, whatever the settings. */
  public Result play(Script script, Watcher watcher) {
    return run(settings.playing(script), script.segment(), watcher);
  }

  private Result run(Settings settings, Segment segment, Watcher watcher) {
    Flow flow = binding.contract().flow();
    if (counter != null) {
      counter.begin(segment, settings.stimulus() instanceof SteeredStimulus);
    }
    try (Engine engine = open(segment)) {
      Feed feed = new FeedSetup(binding, settings, segment, engine, evaluation, source).open();
      Checker checker =
          binding.isFixed()
              ? new FixedLatencyChecker(binding.checks(), flow.mostLatency(), Feed.BLOCK)
              : new StreamChecker(binding);
      long rows = blocks(feed, checker, watcher);
      List<Long> met = counter == null ? List.of() : counter.take();
      return new Result(segment, checker.tally(), met, rows, engine.text());
    }
  }

  /**
   * Runs block after block; returns how many rows that were. It stands by itself so that the JVM,
   * where it compiles the loop, does not compile what sets it up along with it.
   */
  private static long blocks(Feed feed, Checker checker, Watcher watcher) {
    long row = 0;
    try {
      while (!checker.isStuck() && watcher.wantsMore(row) && feed.next(checker.outstanding())) {
        checker.block(feed);
        watcher.block(row, feed, checker);
        row += feed.rows;
      }
    } catch (DutException e) {
      watcher.ended(row, feed, checker, e);
      throw e;
    }
    return row;
  }

  private Engine open(Segment segment) {
    Optional<Handshake> handshake = Handshake.of(binding.contract());
    boolean waits = handshake.isPresent() && !binding.beats().areSeveral();
    Engine engine = maker.open(segment.opening(waits ? Feed.PLACES : Feed.BLOCK, handshake));
    return binding.needsPacking() ? new PackingEngine(engine, binding) : engine;
  }
}
