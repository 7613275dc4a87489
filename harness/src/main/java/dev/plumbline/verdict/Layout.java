package dev.plumbline.verdict;

import dev.plumbline.models.datapath.Operand;
import java.util.List;

/**
 * Which ports the recorded rows show, in order, and what the codes on them mean.
 *
 * @param controls reset, valid and ready ports
 * @param inputs operands that cases consist of
 * @param inputPorts the port of each input
 * @param outputs checked operands
 * @param outputPorts the port of each output
 */
public record Layout(
    List<String> controls,
    List<Operand> inputs,
    List<String> inputPorts,
    List<Operand> outputs,
    List<String> outputPorts) {
  /** Rows show nothing. */
  public static final Layout NOTHING =
      new Layout(List.of(), List.of(), List.of(), List.of(), List.of());

  public Layout {
    controls = List.copyOf(controls);
    inputs = List.copyOf(inputs);
    inputPorts = List.copyOf(inputPorts);
    outputs = List.copyOf(outputs);
    outputPorts = List.copyOf(outputPorts);
  }
}
