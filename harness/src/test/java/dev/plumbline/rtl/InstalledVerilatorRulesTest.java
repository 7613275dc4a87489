package dev.plumbline.rtl;

import java.nio.file.Path;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.io.TempDir;

/**
 * Whatever Verilator is installed keeps every rule that the recorded ones keep. {@link
 * InstalledVerilatorTest} says as much in less time where the two describe the same.
 */
@Tag("thorough")
class InstalledVerilatorRulesTest
    implements PortRules, ParameterRules, ClockRules, StateRules, RefusalRules {
  @TempDir static Path work;

  private static InstalledVerilator verilator;

  @BeforeAll
  static void verilatorIsInstalled() {
    verilator = new InstalledVerilator(work);
  }

  @Override
  public Design read(String name) {
    return verilator.read(name);
  }
}
