package dev.plumbline.cli;

import dev.plumbline.evidence.CsvTable;
import dev.plumbline.models.parsing.TextTable;
import dev.plumbline.rtl.AsyncReset;
import dev.plumbline.rtl.Clock;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Parameter;
import dev.plumbline.rtl.Port;
import dev.plumbline.toolchain.Elaborator;
import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** {@code plumbline ports}: the port table of any design. */
@Command(
    name = "ports",
    description = "Prints the ports of a design, with clocks, resets, array and struct shapes.")
final class PortsCommand implements Callable<Integer> {
  @Spec private CommandSpec spec;

  @Mixin private DesignOptions options;

  @Option(names = "--csv", description = "Print CSV (RFC 4180) instead of aligned text.")
  private boolean csv;

  @Override
  public Integer call() {
    Design design = Elaborator.elaborate(options.source());
    PrintWriter out = spec.commandLine().getOut();
    TextTable table = table(design);
    if (csv) {
      CsvTable cells = new CsvTable(table.headings());
      table.rows().forEach(cells::add);
      out.print(cells.text());
    } else {
      out.println("module " + design.top());
      for (Parameter parameter : design.parameters()) {
        String kind = parameter.local() ? "  localparam " : "  parameter ";
        out.println(kind + parameter.name() + " = " + parameter.value());
      }
      out.println();
      table.lines().forEach(out::println);
    }
    out.flush();
    return 0;
  }

  private static TextTable table(Design design) {
    TextTable table =
        new TextTable(
            "port",
            "direction",
            "width",
            "signed",
            "packed",
            "unpacked",
            "role",
            "members",
            "source");
    for (Port port : design.ports()) {
      table.add(
          port.name(),
          port.direction().name().toLowerCase(Locale.ROOT),
          Integer.toString(port.width()),
          port.signed() ? "signed" : "",
          ranges(port.packed()),
          ranges(port.unpacked()),
          role(design, port),
          members(port),
          port.location().toString());
    }
    return table;
  }

  private static String ranges(List<Port.Range> ranges) {
    return ranges.stream().map(Port.Range::toString).collect(Collectors.joining());
  }

  private static String role(Design design, Port port) {
    List<String> roles = new ArrayList<>();
    for (Clock clock : design.clocks()) {
      if (clock.port().equals(port.name())) {
        roles.add("clock, " + clock.edge().name().toLowerCase(Locale.ROOT));
      }
    }
    for (AsyncReset reset : design.asyncResets()) {
      if (reset.port().equals(port.name())) {
        roles.add("asynchronous reset, active " + (reset.activeLow() ? "low" : "high"));
      }
    }
    return String.join("; ", roles);
  }

  private static String members(Port port) {
    List<String> members = new ArrayList<>();
    for (Port.Field field : port.fields()) {
      members.add(
          field.name()
              + "["
              + field.high()
              + ":"
              + field.low()
              + "]"
              + (field.signed() ? " signed" : ""));
    }
    for (Port.EnumItem item : port.enumeration()) {
      members.add(item.name() + "=" + item.code());
    }
    return String.join(", ", members);
  }
}
