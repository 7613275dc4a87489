package dev.plumbline.samples;

import java.util.ArrayList;
import java.util.List;

/** Collects the faults of one unit. */
final class FaultsOf {
  private final String unit;
  private final List<Fault> faults = new ArrayList<>();
  private String file;

  FaultsOf(String unit, String file) {
    this.unit = unit;
    this.file = file;
  }

  /** The following faults stand in this file. */
  FaultsOf in(String name) {
    file = name;
    return this;
  }

  FaultsOf fault(String name, Fault.Shows shows, String what, String original, String replacement) {
    String full = unit.replace('_', '-') + "-" + name;
    faults.add(new Fault(full, unit, shows, what, file, original, replacement));
    return this;
  }

  List<Fault> all() {
    return List.copyOf(faults);
  }
}
