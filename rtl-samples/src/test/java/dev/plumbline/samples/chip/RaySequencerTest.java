package dev.plumbline.samples.chip;

import dev.plumbline.cosim.CompiledDesign;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

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

  @Test
  void isTheModelOfLightBitForBit() {
    new SequencerBits(Formats.STANDARD, true, ChipBlock.SEED).compare(MODEL, 12, 8);
  }

  /** The chip's formats, those of 18.14, and others: with and without normalised directions. */
  @ParameterizedTest
  @CsvSource({
    "32, 16, 18, 16, false",
    "32, 14, 16, 14, true",
    "24, 14, 16, 12, false",
    "32, 20, 24, 22, true"
  })
  @Tag("thorough")
  void soItIsInOtherFormats(
      int wordBits, int wordFraction, int unitBits, int unitFraction, boolean normalised) {
    compare(wordBits, wordFraction, unitBits, unitFraction, normalised);
  }

  @ParameterizedTest
  @CsvSource({"32, 16, 18, 16, true", "32, 14, 16, 14, false", "28, 12, 18, 16, true"})
  @EnabledIfSystemProperty(named = "plumbline.long", matches = "true")
  void andInMore(
      int wordBits, int wordFraction, int unitBits, int unitFraction, boolean normalised) {
    compare(wordBits, wordFraction, unitBits, unitFraction, normalised);
  }

  private static void compare(
      int wordBits, int wordFraction, int unitBits, int unitFraction, boolean normalised) {
    Formats formats = new Formats(wordBits, wordFraction, unitBits, unitFraction);
    CompiledDesign model = ChipBlock.model("ray_sequencer", formats.parameters(normalised));
    new SequencerBits(formats, normalised, ChipBlock.SEED).compare(model, 150, 20);
  }
}
