package dev.plumbline.check;

import dev.plumbline.models.datapath.Operand;
import java.util.Collection;
import java.util.List;
import java.util.Map;

/** What can be said of a contract without its design. */
final class ContractTerms {
  private ContractTerms() {}

  static void check(Contract contract) {
    List<Operand> outputs = contract.reference().outputs();
    requireKnown("input", contract.inputPorts().keySet(), contract.reference().inputs());
    requireKnown("output", contract.outputPorts().keySet(), outputs);
    requireKnown("output", contract.ignored(), outputs);
    requireKnown("output", contract.tolerances().keySet(), outputs);
    requireKnown("output", contract.flags().keySet(), outputs);
    requireKnown("output", contract.flags().values(), outputs);
    checkFlow(contract.flow());
    if (contract.reset().cycles() < 1) {
      throw new ContractException(
          "A reset of " + contract.reset().cycles() + " cycles resets nothing; give 1 or more.");
    }
    for (Map.Entry<String, Long> tolerance : contract.tolerances().entrySet()) {
      Operand operand = find(outputs, tolerance.getKey());
      if (tolerance.getValue() < 0 || operand.format().width() > 62) {
        throw new ContractException(
            "A tolerance of "
                + tolerance.getValue()
                + " last places on output \""
                + operand.name()
                + "\" of format "
                + operand.format()
                + " is not possible; 0 or more is allowed, on formats of up to 62 bits.");
      }
    }
    for (Map.Entry<String, String> entry : contract.flags().entrySet()) {
      Operand flag = find(outputs, entry.getValue());
      if (flag.format().width() != 1 || contract.ignored().contains(flag.name())) {
        throw new ContractException(
            "Output \""
                + entry.getKey()
                + "\" cannot depend on \""
                + flag.name()
                + "\" of format "
                + flag.format()
                + "; a flag is a checked output of one bit.");
      }
    }
    if (contract.ignored().size() == outputs.size()) {
      throw new ContractException(
          "The contract ignores every output of reference \""
              + contract.reference().name()
              + "\", so that nothing would be checked; leave at least one.");
    }
  }

  private static void checkFlow(Contract.Flow flow) {
    if (flow.leastLatency() < 0 || flow.mostLatency() < flow.leastLatency()) {
      throw new ContractException(
          "A latency from "
              + flow.leastLatency()
              + " to "
              + flow.mostLatency()
              + " cycles is not possible; the least is 0 or more and not above the most.");
    }
    if (flow.interval() < 1) {
      throw new ContractException(
          "Cases cannot come " + flow.interval() + " cycles apart; 1 or more is allowed.");
    }
    if (!flow.hasValid()
        && (flow.inReady() != null
            || flow.outReady() != null
            || flow.leastLatency() != flow.mostLatency()
            || flow.interval() > 1)) {
      throw new ContractException(
          "Ready ports, a range of latencies or cycles between inputs need valid ports, which the"
              + " contract does not name; add valid(...).");
    }
  }

  private static void requireKnown(String what, Collection<String> names, List<Operand> operands) {
    for (String name : names) {
      if (operands.stream().noneMatch(operand -> operand.name().equals(name))) {
        throw new ContractException(
            "The reference has no "
                + what
                + " \""
                + name
                + "\"; "
                + Names.hint(name, operands.stream().map(Operand::name).toList())
                + ".");
      }
    }
  }

  private static Operand find(List<Operand> operands, String name) {
    return operands.stream().filter(o -> o.name().equals(name)).findFirst().orElseThrow();
  }
}
