package dev.plumbline.cli;

import dev.plumbline.contract.Beats;
import java.util.List;
import java.util.Map;
import java.util.function.BiFunction;
import java.util.stream.Collectors;

/**
 * Buses of a draft that have several operands, one a beat.
 *
 * @param operands from beat 0 on, by port; empty where every operand has a port of its own
 */
record DraftBeats(Map<String, List<String>> operands) {
  private static final String COMMENT =
      "    // One axis a beat, x first; Beats also has other orders, marks, and beats without"
          + " gaps.\n";

  String comment() {
    return operands.isEmpty() ? "" : COMMENT;
  }

  /** Spreads the operands of a bench. */
  <T> T on(T bench, BiFunction<T, Beats, T> method) {
    Beats beats = null;
    for (Map.Entry<String, List<String>> bus : operands.entrySet()) {
      String[] turn = bus.getValue().toArray(new String[0]);
      beats = beats == null ? Beats.on(bus.getKey(), turn) : beats.and(bus.getKey(), turn);
    }
    return beats == null ? bench : method.apply(bench, beats);
  }

  /** The lines that say so in a class. */
  String call() {
    return operands.isEmpty()
        ? ""
        : operands.entrySet().stream()
            .map(bus -> "(" + quoted(bus.getKey()) + ", " + turn(bus.getValue()) + ")")
            .collect(
                Collectors.joining(
                    "\n                .and", "        .beats(\n            Beats.on", ")\n"));
  }

  private static String turn(List<String> operands) {
    return operands.stream().map(DraftBeats::quoted).collect(Collectors.joining(", "));
  }

  private static String quoted(String name) {
    return '"' + name + '"';
  }
}
