package dev.plumbline.explain;

import dev.plumbline.contract.Reference;
import dev.plumbline.contract.Suspect;
import dev.plumbline.window.Observation;
import java.util.ArrayList;
import java.util.List;

/** Holds what was observed to what a reference says that a DUT may compute instead. */
final class SuspectKinds {
  private final Reference reference;
  private final List<Observation> seen;
  private int tried;

  SuspectKinds(Reference reference, List<Observation> seen) {
    this.reference = reference;
    this.seen = seen.stream().filter(one -> !one.places().isEmpty()).toList();
  }

  int tried() {
    return tried;
  }

  /** Those that agree with every result, in their order. */
  List<Suspect> find() {
    List<Suspect> found = new ArrayList<>();
    for (Suspect suspect : reference.suspects()) {
      tried++;
      if (seen.stream().allMatch(one -> agrees(one, suspect.reference()))) {
        found.add(suspect);
      }
    }
    return found;
  }

  private static boolean agrees(Observation one, Reference other) {
    ChangedReference all = new ChangedReference(one, one.places(), one.results(), other);
    Reference.Evaluation evaluation = other.open(all.places());
    all.fill(evaluation::input);
    if (other.isStateful()) {
      all.begins().stream().forEach(evaluation::renewBefore);
    }
    evaluation.run(all.places());
    return all.agrees(evaluation::low, evaluation::high);
  }
}
