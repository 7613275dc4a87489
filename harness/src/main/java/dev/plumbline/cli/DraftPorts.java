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

  private static final List<String> VECTORS =
      List.of("origin", "direction", "inverse", "centre", "normal", "min", "max");

  /** No number of a ray or a solid has more bits. */
  private static final int WIDEST_NUMBER = 64;

  private final Design design;

  /** How an operand shares its port with others. */
  enum Sharing {
    /** It does not. */
    NONE,
    /** The axes of a vector come in turn, each in a beat. */
    IN_TURN,
    /** They are parts of one word. */
    SIDE_BY_SIDE,
    /** They are elements of an array. */
    ELEMENTS
  }

  /**
   * What an operand comes on.
   *
   * @param port the port
   * @param width bits of the operand
   */
  record Carrier(Port port, int width, Sharing sharing) {}

  DraftPorts(Design design) {
    this.design = design;
  }

  /** What carries an operand: a port of its own, or one that has all three axes of its vector. */
  Optional<Carrier> find(String operand, boolean isInput) {
    return named(Vocabulary.namesOf(operand), isInput)
        .map(DraftPorts::whole)
        .or(() -> member(Vocabulary.namesOf(operand), isInput))
        .or(() -> axes(operand, isInput));
  }

  /** A member of a struct, which the bench finds by its name. */
  private Optional<Carrier> member(List<String> names, boolean isInput) {
    return ports(isInput)
        .flatMap(port -> port.fields().stream().map(field -> member(port, field, names, isInput)))
        .flatMap(Optional::stream)
        .findFirst();
  }

  private static Optional<Carrier> member(
      Port port, Port.Field field, List<String> names, boolean isInput) {
    return Vocabulary.formsOf(port.name() + "." + field.name(), isInput).stream()
            .anyMatch(names::contains)
        ? Optional.of(new Carrier(port, field.high() - field.low() + 1, Sharing.NONE))
        : Optional.empty();
  }

  /** The same, or the only port of more than a bit where it can be nothing else. */
  Optional<Carrier> carrier(String operand, boolean isInput) {
    return find(operand, isInput)
        .or(() -> isInput && !operand.equals("x") ? Optional.empty() : onlyWide(isInput));
  }

  private Optional<Carrier> onlyWide(boolean isInput) {
    List<Port> wide = ports(isInput).filter(port -> port.width() > 1).toList();
    return wide.size() == 1 ? Optional.of(whole(wide.get(0))) : Optional.empty();
  }

  private static Carrier whole(Port port) {
    return new Carrier(port, port.width(), Sharing.NONE);
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

  /** The ports that have three operands each in some way: operands by port, x first. */
  Map<Port, List<String>> vectors(List<String> vectors, Sharing sharing) {
    Map<Port, List<String>> found = new LinkedHashMap<>();
    for (String vector : vectors) {
      List<String> axes = AXES.stream().map(axis -> vector + "_" + axis).toList();
      find(axes.get(0), true)
          .filter(carrier -> carrier.sharing() == sharing)
          .ifPresent(carrier -> found.put(carrier.port(), axes));
    }
    return found;
  }

  private Optional<Carrier> axes(String operand, boolean isInput) {
    int at = operand.lastIndexOf('_');
    if (!isInput || at < 0 || !AXES.contains(operand.substring(at + 1))) {
      return Optional.empty();
    }
    return vector(operand.substring(0, at))
        .map(port -> new Carrier(port, port.width(), sharing(port)))
        .map(
            carrier ->
                carrier.sharing() == Sharing.SIDE_BY_SIDE
                    ? new Carrier(
                        carrier.port(), carrier.width() / AXES.size(), Sharing.SIDE_BY_SIDE)
                    : carrier)
        .filter(carrier -> carrier.sharing() != Sharing.IN_TURN || !design.clocks().isEmpty());
  }

  private Sharing sharing(Port port) {
    return !port.unpacked().isEmpty()
        ? Sharing.ELEMENTS
        : areSideBySide() ? Sharing.SIDE_BY_SIDE : Sharing.IN_TURN;
  }

  private Optional<Port> vector(String vector) {
    return named(Vocabulary.namesOfVector(vector), true)
        .filter(port -> port.width() > 1 && port.fields().isEmpty())
        .filter(port -> port.unpacked().isEmpty() || isOfThree(port.unpacked()));
  }

  private static boolean isOfThree(List<Port.Range> ranges) {
    return ranges.size() == 1 && ranges.get(0).size() == AXES.size();
  }

  /**
   * Whether ports that are called as a vector have all three axes at once, as one of them shows.
   */
  private boolean areSideBySide() {
    List<Port> vectors =
        VECTORS.stream()
            .flatMap(vector -> vector(vector).stream())
            .filter(port -> port.unpacked().isEmpty())
            .distinct()
            .toList();
    return vectors.stream().allMatch(port -> port.width() % AXES.size() == 0)
        && vectors.stream().anyMatch(this::hasThree);
  }

  /** Whether a port is an array of three, or as wide as three numbers of the module. */
  private boolean hasThree(Port port) {
    List<Port> numbers =
        Stream.concat(
                Stream.of("entry", "exit").map(output -> named(Vocabulary.namesOf(output), false)),
                Stream.of("radius", "level").map(input -> named(Vocabulary.namesOf(input), true)))
            .flatMap(Optional::stream)
            .filter(number -> number.width() > 1)
            .toList();
    return (port.packed().size() > 1 && port.packed().get(0).size() == AXES.size())
        || port.width() > WIDEST_NUMBER
        || numbers.stream().anyMatch(number -> port.width() == AXES.size() * number.width());
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
