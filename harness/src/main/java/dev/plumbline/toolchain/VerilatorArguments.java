package dev.plumbline.toolchain;

import dev.plumbline.rtl.RtlSource;
import java.util.ArrayList;
import java.util.List;

/** How a source is told to Verilator. */
final class VerilatorArguments {
  /** The generated class; one name for all designs, since no library shows its names to others. */
  static final String PREFIX = "Vdut";

  private VerilatorArguments() {}

  /** Everything that says what the design is, as Verilator's command line takes it. */
  static List<String> of(RtlSource source) {
    // A warning is the business of lint; delays are ignored, since rows have no time inside.
    List<String> arguments = new ArrayList<>(List.of("-Wno-fatal", "--no-timing"));
    arguments.addAll(source.arguments());
    return arguments;
  }

  /** What is asked of the generated C++. */
  static List<String> of(BuildOptions options) {
    return List.of(
        options.assertions() ? "--assert" : "--no-assert",
        "--x-assign",
        options.unknowns() == BuildOptions.Unknowns.ZERO ? "0" : "unique",
        // Initial state is drawn, zero or one as the model is opened; this build serves all three.
        "--x-initial",
        "unique");
  }
}
