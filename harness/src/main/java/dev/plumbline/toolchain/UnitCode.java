package dev.plumbline.toolchain;

import dev.plumbline.rtl.CppNames;
import dev.plumbline.rtl.Design;
import java.io.IOException;
import java.util.Map;

/** The C++ that a library is compiled from. */
final class UnitCode {
  private static final String UNOPTIMISED =
      "#pragma GCC push_options\n#pragma GCC optimize (\"O0\")\nCODE#pragma GCC pop_options\n";

  private UnitCode() {}

  /** One translation unit for all: the model's code, the design's ports, the calls from Java. */
  static String of(Design design, Generated cpp, Support.Level level, BuildOptions options)
      throws IOException {
    Map<String, String> members = CppNames.members(design.ports(), cpp.headersOfPorts());
    StringBuilder unit = new StringBuilder();
    if (options.internals()) {
      unit.append("#define PLUMB_INTERNALS\n#include <algorithm>\n#include \"verilated_syms.h\"\n");
    }
    unit.append(PortCode.undefine(members.values()));
    // A loop that never ends has to notice that it was cancelled. No standard header is read after
    // this point, so only generated loops are touched.
    unit.append("#define while(...) while ((__VA_ARGS__) && plumb::poll())\n");
    for (String file : cpp.sources()) {
      String include = "#include \"" + file + "\"\n";
      // A copy of the logic that runs once, as a model is opened; of a wide network it is half.
      boolean runsOnce =
          (level == Support.Level.O1 && file.contains("__Slow"))
              || (options.internals() && file.contains("__Syms"));
      unit.append(runsOnce ? UNOPTIMISED.replace("CODE", include) : include);
    }
    return unit.append("#undef while\n")
        .append(Ends.of(cpp).code())
        .append(PortCode.of(design, members))
        .append(options.internals() ? Resources.text("internals.cpp") : "")
        .append(Resources.text("entry.cpp"))
        .toString();
  }
}
