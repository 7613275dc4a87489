package dev.plumbline.samples.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.stimulus.RandomStream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The whole chip in other parameters than those it is made in: contexts, formats, sizes. */
class OrreryParametersTest {
  private static OrreryFrames open(OrreryBuild build, long seed) {
    CompiledDesign model = ChipBlock.model("orrery", build.parameters());
    return new OrreryFrames(model, build, seed);
  }

  @Test
  @Tag("thorough")
  void framesInARowFromASmallChip() {
    try (OrreryFrames frames = open(OrreryBuild.SMALL, ChipBlock.SEED)) {
      frames.run(3, 24);
    }
  }

  @Test
  @Tag("thorough")
  void pixelsOvertakeEachOtherAndFramesWaitForTheMemory() {
    try (OrreryFrames frames = open(OrreryBuild.SMALL, 7)) {
      frames.run(24, 100);
      assertTrue(frames.overtaken() > 0, "no pixel came before one handed out earlier");
      assertTrue(frames.framesThatBeganBeforeTheSwap() > 0, "no frame had to wait");
    }
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 3})
  @Tag("thorough")
  void framesInARowFromAChipDrawnByTheSeed(int contexts) {
    run(contexts, ChipBlock.SEED, 6);
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 2, 3, 4})
  @EnabledIfSystemProperty(named = "plumbline.long", matches = "true")
  void framesInARowFromManyChips(int contexts) {
    for (int i = 1; i <= 6; i++) {
      run(contexts, RandomStream.derive(ChipBlock.SEED, i), 10);
    }
  }

  private static void run(int contexts, long seed, int count) {
    RandomStream chance = RandomStream.of(RandomStream.derive(seed, "chip of " + contexts));
    OrreryBuild build = OrreryBuild.drawn(contexts, chance);
    try (OrreryFrames frames = open(build, chance.next())) {
      frames.run(count, 150);
      if (contexts == 1) {
        assertEquals(0, frames.overtaken(), "one context keeps the order");
      }
    }
  }
}
