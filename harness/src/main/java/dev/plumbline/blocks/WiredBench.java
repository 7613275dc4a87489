package dev.plumbline.blocks;

import dev.plumbline.contract.Beats;
import dev.plumbline.contract.Reference;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import dev.plumbline.wiring.PackedPort;
import dev.plumbline.wiring.PortGuess;
import dev.plumbline.wiring.Vocabulary;
import dev.plumbline.wiring.Wiring;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * The wiring of a bench: which port carries what. What is not set is guessed from the names of
 * ports.
 *
 * @param <T> the bench itself
 */
abstract class WiredBench<T extends WiredBench<T>> {
  private final Wiring wiring = new Wiring();
  private final Map<String, String[]> packed = new LinkedHashMap<>();

  /** The bench, in its own type. */
  abstract T self();

  /** What the RTL declares. */
  abstract Design design();

  final String name() {
    return getClass().getSimpleName();
  }

  /** Whether any of some inputs was mapped or has a port that is called as it may be. */
  final boolean knows(List<Operand> inputs) {
    return inputs.stream()
            .anyMatch(
                input ->
                    wiring.inputs.containsKey(input.name())
                        || (wiring.beats != null && wiring.beats.ports().containsKey(input.name()))
                        || packed.values().stream()
                            .anyMatch(parts -> List.of(parts).contains(input.name())))
        || PortGuess.countNamed(design(), inputs, true) > 0;
  }

  /** How wide the port of an operand is, where it is the whole of one; else the width given. */
  final int widthOf(String operand, int otherwise) {
    String set = wiring.inputs.get(operand);
    Set<String> names = Set.copyOf(Vocabulary.namesOf(operand));
    return design().ports().stream()
        .filter(port -> port.direction() == Port.Direction.INPUT)
        .filter(
            port ->
                set == null
                    ? Vocabulary.formsOf(port.name(), true).stream().anyMatch(names::contains)
                    : port.name().equals(set))
        .mapToInt(Port::width)
        .findFirst()
        .orElse(otherwise);
  }

  /**
   * Sets the port that carries an operand, instead of having it guessed.
   *
   * @param operand the operand, as the bench's documentation names it
   * @param port the port, or a part of one as in Verilog: {@code ray[31:0]}, {@code table[2]},
   *     {@code ray.x}
   * @return this bench
   */
  public T port(String operand, String port) {
    wiring.inputs.put(operand, port); // sorted into inputs and outputs when the operands are known
    return self();
  }

  /**
   * Sets a port that carries several operands side by side, each as wide as its format.
   *
   * @param port the port, all of whose bits are taken
   * @param operandsFromLow the operands, the one in the lowest bits first
   * @return this bench
   */
  public T packed(String port, String... operandsFromLow) {
    packed.put(port, operandsFromLow.clone());
    return self();
  }

  /**
   * Spreads operands over several beats of a case, one after the other; needs valid ports.
   *
   * @param spread which operand comes where and when
   * @return this bench
   */
  public T beats(Beats spread) {
    wiring.beats = spread;
    return self();
  }

  /**
   * Leaves an output unchecked although the DUT has a port for it.
   *
   * @param output the output
   * @return this bench
   */
  public T unchecked(String output) {
    wiring.unchecked.add(output);
    return self();
  }

  /**
   * Holds an input port at one value, such as a mode or an enable.
   *
   * @param port the port
   * @param code its value
   * @return this bench
   */
  public T hold(String port, long code) {
    wiring.held.put(port, code);
    return self();
  }

  /**
   * Names the valid ports, instead of having them guessed.
   *
   * @param inPort the input that marks a case
   * @param outPort the output that marks a result
   * @return this bench
   */
  public T valid(String inPort, String outPort) {
    wiring.inValid = inPort;
    wiring.outValid = outPort;
    return self();
  }

  /**
   * Names the ready ports, instead of having them guessed.
   *
   * @param inPort the output by which the DUT accepts a case, or null
   * @param outPort the input by which the consumer takes a result, or null
   * @return this bench
   */
  public T ready(String inPort, String outPort) {
    wiring.inReady = inPort;
    wiring.outReady = outPort;
    return self();
  }

  /**
   * Names a reset that is asserted high, instead of having it guessed.
   *
   * @param port the port
   * @return this bench
   */
  public T reset(String port) {
    wiring.reset = port;
    wiring.resetLow = false;
    return self();
  }

  /**
   * Names a reset that is asserted low, instead of having it guessed.
   *
   * @param port the port
   * @return this bench
   */
  public T resetLow(String port) {
    wiring.reset = port;
    wiring.resetLow = true;
    return self();
  }

  /** The wiring as set, with packed ports cut up, and outputs separated from inputs. */
  final Wiring sorted(Reference reference) {
    Wiring sorted = new Wiring(wiring);
    if (wiring.beats != null) {
      sorted.inputs.putAll(wiring.beats.ports());
    }
    packed.forEach(
        (port, operands) ->
            sorted.inputs.putAll(PackedPort.cut(name(), design(), port, operands, reference)));
    for (Operand output : reference.outputs()) {
      String port = sorted.inputs.remove(output.name());
      if (port != null) {
        sorted.outputs.put(output.name(), port);
      }
    }
    return sorted;
  }
}
