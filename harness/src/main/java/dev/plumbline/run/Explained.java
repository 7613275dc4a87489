package dev.plumbline.run;

import dev.plumbline.models.datapath.Variations;
import dev.plumbline.verdict.MismatchGroup;
import java.util.List;

/**
 * What is known of the mismatches of a segment.
 *
 * @param groups those that are alike together
 * @param changes of the reference, each of which explains the first group: indices in {@link
 *     Variations#all}, most likely first; none where nothing of that kind explains it
 */
public record Explained(List<MismatchGroup> groups, List<Integer> changes) {
  public static final Explained NOTHING = of(List.of());

  public Explained {
    groups = List.copyOf(groups);
    changes = List.copyOf(changes);
  }

  /** Without a change of the reference. */
  public static Explained of(List<MismatchGroup> groups) {
    return new Explained(groups, List.of());
  }
}
