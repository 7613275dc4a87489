package dev.plumbline.samples.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.stimulus.RandomStream;

/** What the frame controller owes to whoever waits for a frame; the driver checks each pixel. */
final class FrameChecks {
  private FrameChecks() {}

  private static int size(RandomStream chance, int most) {
    return (int) Math.min(most, Math.exp(chance.unit() * Math.log(most + 1)));
  }

  private static void begin(FrameDriver driver, RandomStream chance, int most) {
    driver.begin(
        size(chance, most),
        size(chance, most),
        size(chance, 60),
        chance.chance(0.3) ? 0 : 0.9 * chance.unit());
  }

  /** Frames of any size, contexts of any speed: every pixel once, then done, and the counts. */
  static void everyPixelIsGivenOnce(
      CompiledDesign model, int contexts, int frames, int most, long seed) {
    RandomStream chance = RandomStream.of(seed);
    try (FrameDriver driver = new FrameDriver(model, contexts, seed)) {
      for (int i = 0; i < frames; i++) {
        begin(driver, chance, most);
        driver.untilIdle();
        assertEquals(1, driver.dones);
        assertEquals(driver.given.cardinality(), driver.dut().get("primary_rays"));
        assertEquals(driver.shadows, driver.dut().get("shadow_rays"));
        assertEquals(driver.mirrors, driver.dut().get("mirror_rays"));
        assertEquals(driver.mirrorShadows, driver.dut().get("mirror_shadow_rays"));
        for (int idle = chance.below(5); idle > 0; idle--) {
          driver.cycle();
        }
      }
      assertEquals(0, driver.startsIgnored);
    }
  }

  /** Given up at any moment: nobody is left with a pixel, and the next frame is as any other. */
  static void aFrameIsGivenUp(CompiledDesign model, int contexts, int frames, long seed) {
    RandomStream chance = RandomStream.of(seed);
    try (FrameDriver driver = new FrameDriver(model, contexts, seed)) {
      for (int i = 0; i < frames; i++) {
        driver.begin(6 + chance.below(6), 6, 20, chance.unit() * 0.5);
        for (int wait = chance.below(80); wait > 0; wait--) {
          driver.cycle();
        }
        driver.abort();
        int handedOut = driver.handedOut();
        boolean over = driver.now("busy") == 0;
        driver.untilIdle();
        driver.cycle();
        assertTrue(driver.isEmptyHanded(), "a context has a pixel while the frame is given up");
        assertEquals(handedOut, driver.handedOut(), "pixels handed out after it was given up");
        assertEquals(over ? 1 : 0, driver.dones);
        assertEquals(0, driver.now("pixel_valid"));

        begin(driver, chance, 8);
        driver.untilIdle();
        assertEquals(1, driver.dones);
      }
    }
  }

  /** A start while busy, or while a frame is given up, changes nothing and is told. */
  static void aStartWhileBusyIsTold(CompiledDesign model, int contexts, long seed) {
    RandomStream chance = RandomStream.of(seed);
    try (FrameDriver driver = new FrameDriver(model, contexts, seed)) {
      for (int i = 0; i < 10; i++) {
        int before = driver.startsIgnored;
        driver.begin(5, 4, 30, 0.3);
        for (int wait = chance.below(20); wait > 0; wait--) {
          driver.cycle();
        }
        driver.startAgain();
        assertEquals(before + 1, driver.startsIgnored);
        driver.untilIdle();
        assertEquals(1, driver.dones);
        assertEquals(before + 1, driver.startsIgnored);

        driver.begin(9, 9, 30, 0.3);
        driver.cycle();
        driver.abort();
        driver.startAgain();
        assertEquals(before + 2, driver.startsIgnored);
        driver.untilIdle();
        assertEquals(0, driver.dones);
      }
    }
  }
}
