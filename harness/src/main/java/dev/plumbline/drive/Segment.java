package dev.plumbline.drive;

import dev.plumbline.stimulus.RandomStream;
import java.util.Optional;

/**
 * A part of a run that stands on its own: its DUT is fresh, its chance follows from its seed.
 *
 * @param number counted from 0 over the run
 * @param firstCase number of its first case over the run
 * @param cases how many cases it offers
 * @param seed its seed
 * @param start the state its DUT wakes up in
 * @param state which of the states by chance
 * @param hasResets whether there may be resets in mid-stream
 */
public record Segment(
    long number,
    long firstCase,
    int cases,
    long seed,
    Engine.Start start,
    int state,
    boolean hasResets) {
  /** The number of what is no part of a run: a script. */
  public static final long OF_A_SCRIPT = -1;

  /** One of those that a run is cut into, so many cases long but for the last. */
  public static Segment of(long runSeed, long number, long casesOfRun, int length) {
    long first = number * length;
    return new Segment(
        number,
        first,
        (int) Math.min(length, casesOfRun - first),
        RandomStream.derive(runSeed, number),
        Engine.Start.RANDOM,
        0,
        true);
  }

  /** The seed of one of its uses of chance. */
  public long seedOf(Use use) {
    return RandomStream.derive(seed, use.name());
  }

  public Segment startingFrom(Engine.Start other) {
    return new Segment(number, firstCase, cases, seed, other, 0, hasResets);
  }

  /** Its first cases, from another state; states by chance are distinguished by a number. */
  public Segment startingFrom(Engine.Start other, int fewerCases, int state) {
    return new Segment(
        number, firstCase, Math.min(cases, fewerCases), seed, other, state, hasResets);
  }

  /** The same without resets in mid-stream, which would take cases with them. */
  public Segment withoutResets() {
    return new Segment(number, firstCase, cases, seed, start, state, false);
  }

  /** The seed of the state that its DUT wakes up in. */
  private long stateSeed() {
    return RandomStream.derive(seedOf(Use.STATE), state);
  }

  /** How its DUT is opened. */
  public Engine.Opening opening(int rows, Optional<Handshake> handshake) {
    return new Engine.Opening(start, stateSeed(), rows, handshake);
  }

  /** What draws by chance. */
  public enum Use {
    CASES,
    OFFERS,
    READY,
    RESETS,
    STATE,
    BUBBLES
  }
}
