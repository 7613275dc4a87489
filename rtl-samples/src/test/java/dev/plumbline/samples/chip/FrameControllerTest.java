package dev.plumbline.samples.chip;

import dev.plumbline.cosim.CompiledDesign;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The frame controller with contexts that are played by hand. */
class FrameControllerTest {
  private static CompiledDesign model(int contexts) {
    return ChipBlock.model("frame_controller", "CONTEXTS=" + contexts);
  }

  @Test
  void everyPixelIsGivenOnce() {
    FrameChecks.everyPixelIsGivenOnce(model(3), 3, 8, 12, ChipBlock.SEED);
  }

  @Test
  void aFrameIsGivenUp() {
    FrameChecks.aFrameIsGivenUp(model(3), 3, 10, ChipBlock.SEED);
  }

  @Test
  void aStartWhileBusyIsTold() {
    FrameChecks.aStartWhileBusyIsTold(model(3), 3, ChipBlock.SEED);
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 2, 3, 4})
  @Tag("thorough")
  void soItIsWithAnyNumberOfContexts(int contexts) {
    FrameChecks.everyPixelIsGivenOnce(model(contexts), contexts, 40, 60, ChipBlock.SEED);
    FrameChecks.aFrameIsGivenUp(model(contexts), contexts, 100, ChipBlock.SEED);
    FrameChecks.aStartWhileBusyIsTold(model(contexts), contexts, ChipBlock.SEED);
  }

  /** The largest width, and the largest height: 4096, as far as a frame of one row or column. */
  @Test
  @Tag("thorough")
  void theLargestFramesEnd() {
    try (FrameDriver driver = new FrameDriver(model(4), 4, ChipBlock.SEED)) {
      driver.begin(4096, 2, 3, 0);
      driver.untilIdle();
      driver.begin(1, 4096, 3, 0);
      driver.untilIdle();
    }
  }
}
