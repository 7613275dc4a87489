package dev.plumbline.toolchain;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.toolchain.BuildOptions.Optimisation;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Isolated;

/** Alone, since every build that another test makes meanwhile would read the same property. */
@Isolated
class BuildOptionsTest {
  private static final String OPTIMISED = "plumbline.optimised";
  private final String before = System.getProperty(OPTIMISED);

  @AfterEach
  void asItWas() {
    if (before == null) {
      System.clearProperty(OPTIMISED);
    } else {
      System.setProperty(OPTIMISED, before);
    }
  }

  @Test
  void modelsAreOptimisedLaterUnlessThePropertySaysOtherwise() {
    System.clearProperty(OPTIMISED);
    assertEquals(Optimisation.LATER, BuildOptions.defaults().optimisation());
    System.setProperty(OPTIMISED, "true");
    assertEquals(Optimisation.LATER, BuildOptions.defaults().optimisation());
    System.setProperty(OPTIMISED, "first");
    assertEquals(Optimisation.FIRST, BuildOptions.defaults().optimisation());
    System.setProperty(OPTIMISED, "false");
    assertEquals(Optimisation.NEVER, BuildOptions.defaults().optimisation());
    assertEquals(Optimisation.LATER, BuildOptions.defaults().withOptimisation(true).optimisation());
    System.setProperty(OPTIMISED, "second");
    IllegalArgumentException refused =
        assertThrows(IllegalArgumentException.class, BuildOptions::defaults);
    assertTrue(refused.getMessage().contains("\"second\""), refused.getMessage());
  }
}
