package dev.plumbline.run;

import dev.plumbline.contract.CoveragePoints;
import dev.plumbline.stimulus.RandomStream;
import java.util.Optional;

/**
 * What a run needs to know of its bench.
 *
 * @param name the bench's name, in reports and in its share of the seed
 * @param binding the contract joined to the design
 * @param settings how the DUT is driven
 * @param maker opens a DUT
 * @param cases how many cases are offered
 * @param threads how many threads run segments
 * @param initialStates from how many initial states the first cases are run again
 * @param seed what all chance of the run follows from
 * @param coverage points coverage points, where there are any
 * @param contentHash the digest of the RTL
 * @param repeat the command that repeats the run
 */
public record Plan(
    String name,
    Binding binding,
    Settings settings,
    Engine.Maker maker,
    long cases,
    int threads,
    int initialStates,
    long seed,
    Optional<CoveragePoints> coverage,
    String contentHash,
    String repeat) {
  /** Two benches of one run draw differently. */
  public long streamSeed() {
    return RandomStream.derive(seed, name);
  }
}
