package dev.plumbline.run;

import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.verdict.Origin;
import dev.plumbline.verdict.WaveformRequest;
import java.util.Optional;

/**
 * What a run needs to know of its bench besides what is run.
 *
 * @param name the bench's name, in reports and in its share of the seed
 * @param cases how many cases are offered
 * @param threads how many threads run segments
 * @param initialStates from how many initial states the first cases are run again
 * @param mostOpen the largest share of an output's results that bounds may leave open
 * @param origin what the run follows from
 * @param waveform of the first segment, where one is wanted whatever the verdict
 */
public record Plan(
    String name,
    long cases,
    int threads,
    int initialStates,
    double mostOpen,
    Origin origin,
    Optional<WaveformRequest> waveform) {
  /** Two benches of one run draw differently. */
  public long streamSeed() {
    return RandomStream.derive(origin.seed(), name);
  }
}
