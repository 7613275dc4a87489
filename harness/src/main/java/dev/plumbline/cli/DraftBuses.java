package dev.plumbline.cli;

import dev.plumbline.blocks.BoxBench;
import dev.plumbline.blocks.SphereBench;
import dev.plumbline.contract.Beats;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;

/**
 * Ports of a draft that have several operands each; both are empty where every operand has one of
 * its own.
 *
 * @param inTurn operands one a beat, from beat 0 on, by port
 * @param sideBySide operands in one word, the one in the lowest bits first, by port
 */
record DraftBuses(Map<String, List<String>> inTurn, Map<String, List<String>> sideBySide) {
  private static final String TURNS =
      "    // One axis a beat, x first; Beats also has other orders, marks, and beats without"
          + " gaps.\n";

  private static final String SIDES =
      "    // Three axes in a port, x in the lowest bits; name z first where yours has x in the"
          + " highest.\n";

  String comment() {
    return (inTurn.isEmpty() ? "" : TURNS) + (sideBySide.isEmpty() ? "" : SIDES);
  }

  SphereBench on(SphereBench bench) {
    sideBySide.forEach((port, operands) -> bench.packed(port, array(operands)));
    return inTurn.isEmpty() ? bench : bench.beats(beats());
  }

  BoxBench on(BoxBench bench) {
    sideBySide.forEach((port, operands) -> bench.packed(port, array(operands)));
    return inTurn.isEmpty() ? bench : bench.beats(beats());
  }

  private Beats beats() {
    Beats beats = null;
    for (Map.Entry<String, List<String>> bus : inTurn.entrySet()) {
      String[] turn = array(bus.getValue());
      beats = beats == null ? Beats.on(bus.getKey(), turn) : beats.and(bus.getKey(), turn);
    }
    return beats;
  }

  /** The lines that say so in a class. */
  String calls() {
    String packed =
        sideBySide.entrySet().stream()
            .map(bus -> "        .packed" + arguments(bus) + "\n")
            .collect(Collectors.joining());
    return inTurn.isEmpty()
        ? packed
        : packed
            + inTurn.entrySet().stream()
                .map(DraftBuses::arguments)
                .collect(
                    Collectors.joining(
                        "\n                .and", "        .beats(\n            Beats.on", ")\n"));
  }

  private static String arguments(Map.Entry<String, List<String>> bus) {
    return bus.getValue().stream()
        .map(DraftBuses::quoted)
        .collect(Collectors.joining(", ", "(" + quoted(bus.getKey()) + ", ", ")"));
  }

  private static String[] array(List<String> operands) {
    return operands.toArray(new String[0]);
  }

  private static String quoted(String name) {
    return '"' + name + '"';
  }
}
