package dev.plumbline.contract;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.text.Names;
import java.math.BigInteger;
import java.util.Collection;
import java.util.List;
import java.util.Map;

/** What can be checked of a contract without its design. */
final class TermsCheck {
  private TermsCheck() {}

  static void check(Contract contract) {
    List<Operand> outputs = contract.reference().outputs();
    requireKnown("input", contract.inputPorts().keySet(), contract.reference().inputs());
    requireKnown("output", contract.outputPorts().keySet(), outputs);
    requireKnown("output", contract.ignored(), outputs);
    requireKnown("output", contract.tolerances().keySet(), outputs);
    requireKnown("output", contract.flags().keySet(), outputs);
    requireKnown("output", contract.flags().values(), outputs);
    checkBeats(contract);
    checkFlow(contract.flow());
    checkTag(contract);
    if (!contract.reference().givesOneForEach() && !contract.flow().hasValid()) {
      throw new ContractException(
          "Reference \""
              + contract.reference().name()
              + "\" may give none or several results for a case, which only valid ports tell apart,"
              + " and the contract names none; add valid(...).");
    }
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
                + " LSB on output \""
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
    for (Map.Entry<String, Long> entry : contract.otherwise().entrySet()) {
      Operand operand = find(outputs, entry.getKey());
      if (operand.format().width() > 62
          || !operand.format().holds(BigInteger.valueOf(entry.getValue()))) {
        throw new ContractException(
            "Output \""
                + operand.name()
                + "\" of format "
                + operand.format()
                + " cannot be "
                + entry.getValue()
                + " where it does not count; a code of its format is allowed, of up to 62 bits.");
      }
    }
    if (contract.ignored().size() == outputs.size()) {
      throw new ContractException(
          "The contract ignores every output of reference \""
              + contract.reference().name()
              + "\", so that nothing would be checked; leave at least one.");
    }
  }

  private static void checkBeats(Contract contract) {
    Beats beats = contract.beats();
    Flow flow = contract.flow();
    requireKnown("input", beats.slots().keySet(), contract.reference().inputs());
    for (String operand : beats.slots().keySet()) {
      if (contract.inputPorts().containsKey(operand)) {
        throw new ContractException(
            "Input \""
                + operand
                + "\" is connected to port "
                + contract.inputPorts().get(operand)
                + " and to a beat of port "
                + beats.slots().get(operand).port()
                + "; each input has one place. Leave one of them out.");
      }
    }
    if (!beats.areSeveral()) {
      return;
    }
    for (int beat = 0; beat < beats.count(); beat++) {
      if (!beats.marks().containsValue(beat) && isEmpty(beats, beat)) {
        throw new ContractException(
            "Nothing comes at beat "
                + beat
                + " of the "
                + beats.count()
                + " beats of a case; put an operand there, or count the others from 0 without a"
                + " gap.");
      }
    }
    if (!flow.hasValid()) {
      throw new ContractException(
          "A case of "
              + beats.count()
              + " beats needs valid ports, which mark where one begins, and the contract names"
              + " none; add valid(...).");
    }
    if (flow.startsOnce()) {
      throw new ContractException(
          "A case of "
              + beats.count()
              + " beats cannot wait for the block to be free; give its operands side by side, or"
              + " name ready instead of busy and done.");
    }
    if (beats.areContiguous() && flow.inReady() != null) {
      throw new ContractException(
          "Beats that follow each other cannot wait for ready port "
              + flow.inReady()
              + ". Leave out contiguous() and validAtFirst(), or hold the block to its valid"
              + " alone.");
    }
    if (beats.isLatencyFromFirst() && !beats.areContiguous()) {
      throw new ContractException(
          "A latency from the first of "
              + beats.count()
              + " beats needs them to follow each other without bubbles; add contiguous() as well,"
              + " or count from the last.");
    }
    if (flow.mostLatency() < 0 && beats.head() > 0) {
      throw new ContractException(
          "A latency of "
              + (flow.mostLatency() + beats.head())
              + " cycles from the first of "
              + beats.count()
              + " beats would be over before the last has come; "
              + beats.head()
              + " or more is allowed.");
    }
  }

  private static boolean isEmpty(Beats beats, int beat) {
    return beats.slots().values().stream().noneMatch(place -> place.beat() == beat);
  }

  private static void checkFlow(Flow flow) {
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
        && (flow.waits()
            || flow.outReady() != null
            || flow.leastLatency() != flow.mostLatency()
            || flow.interval() > 1)) {
      throw new ContractException(
          "Ready ports, a range of latencies or cycles between inputs need valid ports, which the"
              + " contract does not name; add valid(...).");
    }
    checkMarks(flow);
  }

  /** What only some ways of taking cases and giving results can be. */
  private static void checkMarks(Flow flow) {
    if (flow.hasValid() && flow.outValid() == null && !flow.isFixed()) {
      throw new ContractException(
          "No port marks results, and they do not all come after the same number of cycles, so that"
              + " nothing tells when; name one in valid(...), or promise one latency(...).");
    }
    if (flow.validStays() && (flow.outReady() != null || flow.mostLatency() < 1)) {
      throw new ContractException(
          "Port "
              + flow.outValid()
              + " cannot stay high until the next case: "
              + (flow.outReady() != null
                  ? "the consumer's " + flow.outReady() + " ends each result"
                  : "a result of latency 0 would be none before its case")
              + ". Leave out doneStays(), or "
              + (flow.outReady() != null ? "ready(...)." : "promise a latency of 1 or more."));
    }
    if (flow.afterReady()
        && (flow.outReady() == null || flow.outValid() == null || flow.tag() != null)) {
      throw new ContractException(
          "A result after ready needs ports that say valid and ready of it, and comes in order;"
              + " name both in valid(...) and ready(...), without anyOrderByTag(...).");
    }
    if (flow.taking() == Taking.WHEN_DONE && flow.outReady() != null) {
      throw new ContractException(
          "A start that waits for port "
              + flow.outValid()
              + " cannot tell when the consumer's "
              + flow.outReady()
              + " has ended the result; name the port that says so in busy(...).");
    }
    if (flow.startsOnce() && flow.interval() > 1) {
      throw new ContractException(
          "A case that waits for the block to be free cannot be held to "
              + flow.interval()
              + " cycles between inputs as well; leave out cyclesBetweenInputs(...).");
    }
  }

  private static void checkTag(Contract contract) {
    Flow flow = contract.flow();
    if (flow.tag() == null) {
      return;
    }
    requireKnown("output", List.of(flow.tag()), contract.reference().outputs());
    Operand tag = find(contract.reference().outputs(), flow.tag());
    if (tag.format().width() > 62
        || contract.ignored().contains(tag.name())
        || contract.tolerances().getOrDefault(tag.name(), 0L) != 0
        || contract.flags().containsKey(tag.name())
        || !contract.reference().givesOneForEach()
        || !flow.hasValid()) {
      throw new ContractException(
          "Output \""
              + tag.name()
              + "\" of format "
              + tag.format()
              + " cannot tell results in any order apart; a tag is a checked output of up to 62"
              + " bits without tolerance or flag, of a reference that gives one result for each"
              + " case, and valid ports mark the results.");
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
