package dev.plumbline.wiring;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.parsing.TextTable;
import dev.plumbline.rtl.Clock;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;

/** A wiring as a table for people: operand, port, format. */
public final class WiringTable {
  private final TextTable rows = new TextTable("operand", "port", "format");

  private WiringTable() {}

  public static String of(
      String title,
      Design design,
      List<Operand> inputs,
      List<Operand> outputs,
      Wiring wiring,
      List<String> notes) {
    WiringTable table = new WiringTable();
    for (Operand operand : inputs) {
      String when = wiring.beats == null ? "" : wiring.beats.when(operand.name());
      table.row(
          operand.name(),
          wiring.inputs.get(operand.name()),
          operand.meaning() + (when.isEmpty() ? "" : ", " + when));
    }
    for (Operand operand : outputs) {
      String port = wiring.outputs.get(operand.name());
      table.row(
          operand.name(),
          port == null ? "-" : port,
          operand.meaning() + (port == null ? ", unchecked" : ""));
    }
    design.clocks().stream().map(Clock::port).forEach(clock -> table.row("clock", clock, ""));
    table.control("reset", wiring.reset, wiring.resetLow ? "asserted low" : "asserted high");
    table.control("valid in", wiring.inValid, "");
    table.control("ready out", wiring.inReady, "");
    table.control("valid out", wiring.outValid, "");
    table.control("ready in", wiring.outReady, "");
    if (wiring.beats != null) {
      wiring.beats.marks().forEach((port, beat) -> table.row("mark", port, "beat " + beat));
    }
    wiring.held.forEach((port, code) -> table.row("held", port, "at " + code));
    Set<String> left = notLookedAt(design, wiring);
    left.forEach(port -> table.row("-", port, "not looked at"));
    StringBuilder text = new StringBuilder(title).append(System.lineSeparator());
    table
        .rows
        .lines()
        .forEach(line -> text.append("  ").append(line).append(System.lineSeparator()));
    notes.forEach(note -> text.append("  ").append(note).append(System.lineSeparator()));
    return text.toString();
  }

  private static Set<String> notLookedAt(Design design, Wiring wiring) {
    Set<String> left = new LinkedHashSet<>();
    for (Port port : design.ports()) {
      if (port.direction() == Port.Direction.OUTPUT
          && !port.name().equals(wiring.outValid)
          && !port.name().equals(wiring.inReady)
          && wiring.outputs.values().stream()
              .noneMatch(text -> Wiring.portOf(text).equals(port.name()))) {
        left.add(port.name());
      }
    }
    return left;
  }

  private void control(String what, String port, String remark) {
    if (port != null) {
      row(what, port, remark);
    }
  }

  private void row(String... cells) {
    rows.add(cells);
  }
}
