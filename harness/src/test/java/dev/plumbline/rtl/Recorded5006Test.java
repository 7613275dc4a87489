package dev.plumbline.rtl;

/** Verilator 5.006, read from its XML. */
class Recorded5006Test implements PortRules, ParameterRules, ClockRules, StateRules, RefusalRules {
  @Override
  public Design read(String name) {
    return Recorded.xml("5.006", name);
  }
}
