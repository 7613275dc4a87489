package dev.plumbline.cli;

import dev.plumbline.rtl.Clock;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import dev.plumbline.wiring.Vocabulary;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;

/** What the ports of a design tell a draft: which of them is called as an operand may be. */
final class DraftPorts {
  private static final List<String> AXES = List.of("x", "y", "z");

  private final Design design;

  DraftPorts(Design design) {
    this.design = design;
  }

  /** The port of an operand: its own, or one that has the three axes of its vector in turn. */
  Optional<Port> find(String operand, boolean isInput) {
    return named(Vocabulary.namesOf(operand), isInput).or(() -> bus(operand, isInput));
  }

  /** The port with a width of more than a bit, where there is only one. */
  Optional<Port> onlyWide(boolean isInput) {
    List<Port> wide = ports(isInput).filter(port -> port.width() > 1).toList();
    return wide.size() == 1 ? Optional.of(wide.get(0)) : Optional.empty();
  }

  long dataInputs() {
    return ports(true)
        .filter(port -> port.width() > 1)
        .filter(port -> design.clocks().stream().map(Clock::port).noneMatch(port.name()::equals))
        .count();
  }

  /** Whether the module or a port of it is named by one of some words. */
  boolean speakOf(List<String> words) {
    return Stream.concat(Stream.of(design.top()), design.ports().stream().map(Port::name))
        .flatMap(name -> Stream.of(name.toLowerCase(Locale.ROOT).split("_")))
        .anyMatch(words::contains);
  }

  /** The buses that have three operands each, an axis a beat: operands by port. */
  Map<String, List<String>> buses(List<String> vectors) {
    Map<String, List<String>> buses = new LinkedHashMap<>();
    for (String vector : vectors) {
      String first = vector + "_" + AXES.get(0);
      if (named(Vocabulary.namesOf(first), true).isEmpty()) {
        bus(first, true)
            .ifPresent(
                port ->
                    buses.put(
                        port.name(), AXES.stream().map(axis -> vector + "_" + axis).toList()));
      }
    }
    return buses;
  }

  private Optional<Port> bus(String operand, boolean isInput) {
    int at = operand.lastIndexOf('_');
    if (!isInput
        || design.clocks().isEmpty()
        || at < 0
        || !AXES.contains(operand.substring(at + 1))) {
      return Optional.empty();
    }
    return named(Vocabulary.namesOfVector(operand.substring(0, at)), true)
        .filter(port -> port.width() > 1)
        .filter(port -> !isSideBySide(port));
  }

  /** Whether a port is as wide as three distances that the module gives. */
  private boolean isSideBySide(Port port) {
    return Stream.of("entry", "exit")
        .flatMap(output -> named(Vocabulary.namesOf(output), false).stream())
        .anyMatch(output -> port.width() == AXES.size() * output.width());
  }

  private Optional<Port> named(List<String> names, boolean isInput) {
    return ports(isInput)
        .filter(port -> names.stream().anyMatch(Vocabulary.formsOf(port.name(), isInput)::contains))
        .findFirst();
  }

  private Stream<Port> ports(boolean isInput) {
    Port.Direction wanted = isInput ? Port.Direction.INPUT : Port.Direction.OUTPUT;
    return design.ports().stream().filter(port -> port.direction() == wanted);
  }
}
