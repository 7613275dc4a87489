package dev.plumbline.cli;

import dev.plumbline.blocks.BoxBench;
import dev.plumbline.blocks.SphereBench;
import dev.plumbline.contract.Beats;
import dev.plumbline.rtl.Port;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;

/**
 * Ports of a draft that have several operands each; all are empty where every operand has one of
 * its own.
 *
 * @param inTurn operands one a beat, from beat 0 on, by port
 * @param sideBySide operands in one word, the one in the lowest bits first, by port
 * @param elements operands in an array, the one of the lowest index first, by port
 */
record DraftBuses(
    Map<Port, List<String>> inTurn,
    Map<Port, List<String>> sideBySide,
    Map<Port, List<String>> elements) {
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
    sideBySide.forEach((port, operands) -> bench.packed(port.name(), array(operands)));
    places().forEach(bench::port);
    return inTurn.isEmpty() ? bench : bench.beats(beats());
  }

  BoxBench on(BoxBench bench) {
    sideBySide.forEach((port, operands) -> bench.packed(port.name(), array(operands)));
    places().forEach(bench::port);
    return inTurn.isEmpty() ? bench : bench.beats(beats());
  }

  /** The element of each operand that is one. */
  private Map<String, String> places() {
    Map<String, String> places = new LinkedHashMap<>();
    elements.forEach(
        (port, operands) -> {
          Port.Range range = port.unpacked().get(0);
          int index = Math.min(range.left(), range.right());
          for (String operand : operands) {
            places.put(operand, port.name() + "[" + index++ + "]");
          }
        });
    return places;
  }

  private Beats beats() {
    Beats beats = null;
    for (Map.Entry<Port, List<String>> bus : inTurn.entrySet()) {
      String[] turn = array(bus.getValue());
      beats = beats == null ? Beats.on(name(bus), turn) : beats.and(name(bus), turn);
    }
    return beats;
  }

  /** The lines that say so in a class. */
  String calls() {
    String placed =
        places().entrySet().stream()
            .map(
                one ->
                    "        .port(" + quoted(one.getKey()) + ", " + quoted(one.getValue()) + ")\n")
            .collect(Collectors.joining());
    String packed =
        placed
            + sideBySide.entrySet().stream()
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

  private static String name(Map.Entry<Port, List<String>> bus) {
    return bus.getKey().name();
  }

  private static String arguments(Map.Entry<Port, List<String>> bus) {
    return bus.getValue().stream()
        .map(DraftBuses::quoted)
        .collect(Collectors.joining(", ", "(" + quoted(name(bus)) + ", ", ")"));
  }

  private static String[] array(List<String> operands) {
    return operands.toArray(new String[0]);
  }

  private static String quoted(String name) {
    return '"' + name + '"';
  }
}
