package dev.plumbline.check;

import java.util.HashMap;
import java.util.Map;

/** The pins of a DUT in software, by name. */
public final class Pins {
  private final Map<String, Long> levels = new HashMap<>();

  public long get(String pin) {
    return levels.getOrDefault(pin, 0L);
  }

  public boolean isHigh(String pin) {
    return get(pin) != 0;
  }

  public void set(String pin, long level) {
    levels.put(pin, level);
  }

  public void set(String pin, boolean level) {
    set(pin, level ? 1 : 0);
  }
}
