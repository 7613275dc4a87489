package dev.plumbline.samples.faults;

import dev.plumbline.faults.Fault;
import java.util.ArrayList;
import java.util.List;

/** Collects the faults of one unit. */
final class FaultsOf {
  private final String lead;
  private final List<Fault> faults = new ArrayList<>();
  private String bench;
  private String file;

  /** Names begin with the unit; the bench is the one that has to see what follows. */
  FaultsOf(String unit, String formats, String file) {
    this.lead = unit.replace('_', '-') + "-";
    this.bench = unit + " " + formats;
    this.file = file;
  }

  /** The following faults stand in this file. */
  FaultsOf in(String name) {
    file = name;
    return this;
  }

  /** The following faults show with other parameters than the default: in this bench. */
  FaultsOf shownBy(String name) {
    bench = name;
    return this;
  }

  FaultsOf fault(
      String name,
      Fault.Kind kind,
      Fault.Shows shows,
      String what,
      String original,
      String replacement) {
    faults.add(
        new Fault(
            lead + name,
            kind,
            shows,
            bench,
            what,
            file,
            List.of(new Fault.Change(original, replacement))));
    return this;
  }

  /** The fault before needs this change as well. */
  FaultsOf and(String original, String replacement) {
    int last = faults.size() - 1;
    faults.set(last, faults.get(last).and(original, replacement));
    return this;
  }

  List<Fault> all() {
    return List.copyOf(faults);
  }
}
