package dev.plumbline.contract;

import java.math.BigInteger;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * All that a contract declares except when results come. Immutable; orders are as promised.
 *
 * @param reference what the results are held to
 * @param inputPorts port of each connected input
 * @param outputPorts port of each connected output
 * @param ignored outputs left unchecked
 * @param held code of each held port
 * @param tolerances LSB that each output may be off
 * @param flags the bit that each output depends on
 * @param otherwise what an output is where that bit is 0; without, it may be anything
 * @param beats which operands come one after the other
 * @param reset how the block is reset
 * @param times which clocks the ports follow
 * @param signsFromFormats whether ports are read as their operand's format declares
 * @param cases what is assumed of cases, which flags count at 0, what idle inputs are held at
 */
record Terms(
    Reference reference,
    Map<String, String> inputPorts,
    Map<String, String> outputPorts,
    Set<String> ignored,
    Map<String, BigInteger> held,
    Map<String, Long> tolerances,
    Map<String, String> flags,
    Map<String, Long> otherwise,
    Beats beats,
    Reset reset,
    PortTimes times,
    boolean signsFromFormats,
    Cases cases) {
  /** What is said of the cases and of inputs that are none. */
  record Cases(Set<String> unless, List<Assumption> assumptions, Idle idle) {
    Cases {
      unless = Collections.unmodifiableSet(new LinkedHashSet<>(unless));
      assumptions = List.copyOf(assumptions);
    }
  }

  Terms {
    inputPorts = copy(inputPorts);
    outputPorts = copy(outputPorts);
    ignored = Collections.unmodifiableSet(new LinkedHashSet<>(ignored));
    held = copy(held);
    tolerances = copy(tolerances);
    flags = copy(flags);
    otherwise = copy(otherwise);
  }

  Terms withReference(Reference other) {
    return new Terms(
        other,
        inputPorts,
        outputPorts,
        ignored,
        held,
        tolerances,
        flags,
        otherwise,
        beats,
        reset,
        times,
        signsFromFormats,
        cases);
  }

  private static <V> Map<String, V> copy(Map<String, V> map) {
    return Collections.unmodifiableMap(new LinkedHashMap<>(map));
  }
}
