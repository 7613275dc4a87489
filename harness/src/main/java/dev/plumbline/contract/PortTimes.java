package dev.plumbline.contract;

/**
 * Which clocks a contract's ports follow, where its block has several.
 *
 * @param cases clock of the ports of cases; null where the RTL is to say
 * @param results clock of the ports of results; null where the RTL is to say
 */
public record PortTimes(String cases, String results) {
  static final PortTimes OF_THE_RTL = new PortTimes(null, null);
}
