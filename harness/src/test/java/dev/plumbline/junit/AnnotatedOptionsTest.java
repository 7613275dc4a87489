package dev.plumbline.junit;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.Clocking;
import dev.plumbline.cosim.DutOptions;
import dev.plumbline.junit.DesignUnderTest.Allowed;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** Clocks and options that an annotation names. */
class AnnotatedOptionsTest {
  @DesignUnderTest
  private static final class Plain {}

  @DesignUnderTest(
      clocks = {"host_clk 10", "pixel_clk 17 3"},
      plusargs = {"slow", "depth=5"},
      timeoutSeconds = 0.25,
      isolated = true,
      allowed = {Allowed.ERRORS, Allowed.MISSING_MEMORY_FILES})
  private static final class Full {}

  @DesignUnderTest(clocks = "clk ten")
  private static final class Wrong {}

  private static DutOptions options(Class<?> type) {
    return AnnotatedOptions.of(type.getAnnotation(DesignUnderTest.class));
  }

  @Test
  void nothingNamedIsWhatIsUsual() {
    assertEquals(DutOptions.defaults(), options(Plain.class));
  }

  @Test
  void eachOptionIsTaken() {
    DutOptions options = options(Full.class);
    assertEquals(
        List.of(new Clocking.Signal("host_clk", 10, 0), new Clocking.Signal("pixel_clk", 17, 3)),
        options.clocking().orElseThrow().signals());
    assertEquals(List.of("slow", "depth=5"), options.plusargs());
    assertEquals(Duration.ofMillis(250), options.timeout());
    assertEquals(Optional.of(true), options.isolated());
    assertTrue(options.continueOnError() && options.missingMemoryFilesAllowed());
  }

  @Test
  void clockThatCannotBeReadIsRefused() {
    IllegalArgumentException refused =
        assertThrows(IllegalArgumentException.class, () -> options(Wrong.class));
    assertTrue(refused.getMessage().startsWith("Clock \"clk ten\" of"), refused.getMessage());
  }
}
