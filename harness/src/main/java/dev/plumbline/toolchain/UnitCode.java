package dev.plumbline.toolchain;

import dev.plumbline.rtl.CppNames;
import dev.plumbline.rtl.Design;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/** The C++ that a library is compiled from. */
final class UnitCode {
  private static final String UNOPTIMISED =
      "#pragma GCC push_options\n#pragma GCC optimize (\"O0\")\nCODE#pragma GCC pop_options\n";

  private UnitCode() {}

  /**
   * The translation units. One for all is compiled soonest where it is small, since headers cost
   * more than code; of a large design two are, side by side. The first has the design's ports and
   * the calls from Java.
   */
  static List<String> of(Design design, Generated cpp, Support.Level level, BuildOptions options)
      throws IOException {
    Map<String, String> members = CppNames.members(design.ports(), cpp.headersOfPorts());
    StringBuilder head = new StringBuilder();
    if (options.internals()) {
      head.append("#define PLUMB_INTERNALS\n#include <algorithm>\n#include \"verilated_syms.h\"\n");
    }
    head.append(PortCode.undefine(members.values()));
    // A loop that never ends has to notice that it was cancelled. No standard header is read after
    // this point, so only generated loops are touched.
    String polled = cpp.settlesSoon() ? "PLUMB_POLLED(__VA_ARGS__)" : "plumb::poll()";
    head.append("#define while(...) while ((__VA_ARGS__) && " + polled + ")\n");
    boolean quickStart = cpp.isLarge() && level != Support.Level.Og;
    List<String> units = new ArrayList<>();
    for (List<String> share : cpp.isLarge() ? cpp.shares(2) : List.of(cpp.sources())) {
      StringBuilder once = new StringBuilder();
      StringBuilder often = new StringBuilder();
      for (String file : share) {
        String include = "#include \"" + file + "\"\n";
        // A copy of the logic that runs once, as a model is opened; of a wide network it is half.
        boolean runsOnce =
            (quickStart && file.contains("__Slow"))
                || (options.internals() && file.contains("__Syms"));
        (runsOnce ? once : often).append(include);
      }
      // First, since the tables of names in a probe build are compiled four times as long where
      // their class was declared under another level.
      String first = once.isEmpty() ? "" : UNOPTIMISED.replace("CODE", once);
      units.add(head + first + often + "#undef while\n");
    }
    String calls =
        Ends.of(cpp).code()
            + PortCode.of(design, members)
            + (options.internals() ? Resources.text("internals.cpp") : "")
            + Resources.text("entry.cpp");
    // A share may be without either header of what the calls use: the model itself, and its ports.
    String headers =
        "#include \""
            + VerilatorArguments.PREFIX
            + ".h\"\n#include \""
            + Generated.ROOT_HEADER
            + "\"\n";
    units.set(0, units.get(0) + headers + calls);
    return units;
  }
}
