package dev.plumbline.toolchain;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

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
  void modelsAreOptimisedUnlessThePropertySaysFalse() {
    System.clearProperty(OPTIMISED);
    assertTrue(BuildOptions.defaults().optimised());
    System.setProperty(OPTIMISED, "true");
    assertTrue(BuildOptions.defaults().optimised());
    System.setProperty(OPTIMISED, "false");
    assertFalse(BuildOptions.defaults().optimised());
    assertTrue(BuildOptions.defaults().withOptimisation(true).optimised());
  }
}
