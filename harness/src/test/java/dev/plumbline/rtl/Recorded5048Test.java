package dev.plumbline.rtl;

/** Verilator 5.048, read from its JSON. */
class Recorded5048Test implements PortRules, ParameterRules, ClockRules, StateRules, RefusalRules {
  @Override
  public Design read(String name) {
    return Recorded.json("5.048", name);
  }
}
