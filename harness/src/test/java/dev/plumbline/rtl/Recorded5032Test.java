package dev.plumbline.rtl;

/** Verilator 5.032, read from its XML. */
class Recorded5032Test implements PortRules, ParameterRules, ClockRules, StateRules, RefusalRules {
  @Override
  public Design read(String name) {
    return Recorded.xml("5.032", name);
  }
}
