package dev.plumbline.wiring;

import dev.plumbline.contract.Beats;
import dev.plumbline.contract.Contract;
import dev.plumbline.models.datapath.Operand;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.Map;
import java.util.Set;

/** Which port carries what: as set, then as guessed. */
public final class Wiring {
  public final Map<String, String> inputs = new LinkedHashMap<>();
  public final Map<String, String> outputs = new LinkedHashMap<>();
  public final Set<String> unchecked = new LinkedHashSet<>();
  public final Map<String, Long> held = new LinkedHashMap<>();
  public Beats beats; // null where every operand has a port of its own
  public String inValid;
  public String outValid;
  public String inReady;
  public String outReady;
  public String reset;
  public boolean resetLow;

  public Wiring() {}

  public Wiring(Wiring other) {
    inputs.putAll(other.inputs);
    outputs.putAll(other.outputs);
    unchecked.addAll(other.unchecked);
    held.putAll(other.held);
    beats = other.beats;
    inValid = other.inValid;
    outValid = other.outValid;
    inReady = other.inReady;
    outReady = other.outReady;
    reset = other.reset;
    resetLow = other.resetLow;
  }

  /** The port of which a text may mean a part only. */
  static String portOf(String text) {
    return text.replaceFirst("[.\\[].*", "");
  }

  boolean isChecked(Operand output) {
    return !unchecked.contains(output.name());
  }

  /** Connects a contract to the ports. */
  public void connect(Contract.Builder contract) {
    inputs.forEach(
        (operand, port) -> {
          if (beats == null || !beats.ports().containsKey(operand)) {
            contract.input(operand, port);
          }
        });
    outputs.forEach(contract::output);
    unchecked.forEach(contract::ignoring);
    held.forEach(contract::hold);
    if (beats != null) {
      contract.beats(beats);
    }
    if (inValid != null) {
      contract.valid(inValid, outValid);
    }
    if (inReady != null || outReady != null) {
      contract.ready(inReady, outReady);
    }
    if (reset != null && resetLow) {
      contract.resetLow(reset);
    } else if (reset != null) {
      contract.reset(reset);
    }
  }
}
