package dev.plumbline.samples.chip;

import dev.plumbline.cosim.CompiledDesign;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** The ray sequencer, its executor played by hand, against figures from outside and reals. */
class RaySequencerTest {
  private static final CompiledDesign MODEL = ChipBlock.model("ray_sequencer");

  /** J. Buck, The Ray Tracer Challenge, 2019, ch. 6 (first two); rational directions. */
  @Test
  @DisplayName("E4: published reflections, from both sides of the plane")
  void mirrorsReflect() {
    SequencerChecks.mirrorsReflect(MODEL, 1);
  }

  /** J. H. Lambert, Photometria, 1760. */
  @Test
  @DisplayName("E1: cosines 8/9 and 0, and none below 0")
  void lightFollowsTheCosine() {
    SequencerChecks.lightFollowsTheCosine(MODEL, 2);
  }

  /** The phase law of a sphere that follows Lambert's cosine. */
  @Test
  @Tag("thorough")
  @DisplayName("E2: a sphere's mean light at four angles of the lamp")
  void spheresHaveTheirPhases() {
    SequencerChecks.spheresHaveTheirPhases(MODEL, 32, 3);
  }

  @Test
  void primaryRaysGoThroughTheirPixels() {
    SequencerChecks.primaryRaysGoThroughTheirPixels(MODEL, 60, ChipBlock.SEED);
  }

  @Test
  void picturesAreAsInReals() {
    SequencerChecks.picturesAreAsInReals(MODEL, 100, ChipBlock.SEED);
  }

  @Test
  @Tag("thorough")
  void manyPicturesAreAsInReals() {
    SequencerChecks.primaryRaysGoThroughTheirPixels(MODEL, 2000, ChipBlock.SEED + 1);
    SequencerChecks.picturesAreAsInReals(MODEL, 2000, ChipBlock.SEED + 1);
  }
}
