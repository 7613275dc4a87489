package dev.plumbline.rtl;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Verilator 5.048, read from its JSON. */
class Recorded5048Test implements PortRules, ParameterRules, ClockRules, StateRules, RefusalRules {
  @Override
  public Design read(String name) {
    return Recorded.json("5.048", name);
  }

  /** A pin connected by position differs from one connected by name in its own name alone. */
  @Test
  void aPinConnectedByPositionIsKnownByThePortItPointsAt(@TempDir Path folder) throws IOException {
    Path tree =
        Files.writeString(
            folder.resolve("gearbox.tree.json"),
            Recorded.text("5.048", "gearbox.tree.json")
                .replaceAll("(\"type\":\"PIN\",\"name\":\")\\w+", "$1__pinNumber1"));

    Design byPosition =
        DesignReader.fromJson(
            tree, Path.of("src/test/resources/recorded/5.048/gearbox.tree.meta.json"), Map.of());

    assertEquals(read("gearbox").clocks(), byPosition.clocks());
    assertEquals(read("gearbox").asyncResets(), byPosition.asyncResets());
  }
}
