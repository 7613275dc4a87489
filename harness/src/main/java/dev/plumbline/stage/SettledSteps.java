package dev.plumbline.stage;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * The steps that cannot be what is wrong, since all that is made from them is right: a number of
 * many bits in the place of such a step explains a wrong result by chance alone.
 */
final class SettledSteps {
  /** Bits of a step from which on nobody has it by chance. */
  private static final int MANY_BITS = 12;

  private final Set<String> right = new HashSet<>();
  private final Set<String> outputs = new HashSet<>();
  private final Map<String, List<String>> takers = new HashMap<>();
  private final Map<String, Boolean> known = new HashMap<>();

  SettledSteps(Datapath datapath, List<Operand> steps, List<List<Station>> stations) {
    for (int s = 0; s < stations.size(); s++) {
      if (steps.get(s).format().width() >= MANY_BITS
          && stations.get(s).stream().anyMatch(Station::isExact)) {
        right.add(steps.get(s).name());
      }
    }
    datapath.outputs().forEach(output -> outputs.add(output.name()));
    datapath
        .operands()
        .forEach(
            (step, operands) ->
                operands.forEach(
                    operand ->
                        takers.computeIfAbsent(operand, key -> new ArrayList<>()).add(step)));
  }

  boolean contains(String step) {
    Boolean before = known.get(step);
    if (before != null) {
      return before;
    }
    known.put(step, false); // a register leads back to itself
    List<String> by = takers.getOrDefault(step, List.of());
    boolean settled =
        !outputs.contains(step)
            && !by.isEmpty()
            && by.stream().allMatch(taker -> right.contains(taker) || contains(taker));
    known.put(step, settled);
    return settled;
  }
}
