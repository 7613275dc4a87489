package dev.plumbline.build;

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
    List<String> arguments = new ArrayList<>();
    if (!source.top().isEmpty()) {
      arguments.addAll(List.of("--top-module", source.top()));
    }
    // A warning is the business of lint; delays are ignored, since rows have no time inside.
    arguments.addAll(List.of("-Wno-fatal", "--no-timing"));
    source.includeFolders().forEach(folder -> arguments.add("-I" + folder));
    source.libraryFolders().forEach(folder -> arguments.addAll(List.of("-y", folder.toString())));
    source
        .defines()
        .forEach(
            (name, value) -> arguments.add("-D" + name + (value.isEmpty() ? "" : "=" + value)));
    source.parameters().forEach((name, value) -> arguments.add("-G" + name + "=" + value));
    source.fileLists().forEach(list -> arguments.addAll(List.of("-f", list.toString())));
    arguments.addAll(source.extraArguments());
    source.files().forEach(file -> arguments.add(file.toString()));
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
