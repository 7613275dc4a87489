package dev.plumbline.toolchain;

import dev.plumbline.rtl.RtlException;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.rtl.SourceLocation;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
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
    // What the source itself calls an error while it is elaborated is none the less one.
    arguments.addAll(List.of("-Werror-USERFATAL", "-Werror-USERERROR"));
    arguments.addAll(source.arguments());
    return arguments;
  }

  /**
   * Refuses arguments in file lists that would break the build from inside, as those that are
   * passed one by one are refused.
   */
  static void checkFileLists(RtlSource source) throws IOException {
    List<RtlException.Message> refused = new ArrayList<>();
    for (Path list : source.fileLists()) {
      if (!Files.isRegularFile(list)) {
        continue; // Verilator says so with a message of its own.
      }
      refused.addAll(refused(list, Files.readAllLines(list, StandardCharsets.ISO_8859_1)));
    }
    if (!refused.isEmpty()) {
      throw new RtlException(
          "A file list passes Verilator what cannot be passed; take it out of the list", refused);
    }
  }

  /** What the lines of a file list have that is refused. */
  static List<RtlException.Message> refused(Path list, List<String> lines) {
    List<RtlException.Message> refused = new ArrayList<>();
    int line = 0;
    for (String text : lines) {
      line++;
      for (String word : text.replaceFirst("(//|#).*", "").trim().split("\\s+", -1)) {
        SourceLocation place = new SourceLocation(list.toString(), line);
        RtlSource.refusal(word).ifPresent(why -> refused.add(new RtlException.Message(place, why)));
      }
    }
    return refused;
  }

  /** What is asked of the generated C++. */
  static List<String> of(BuildOptions options) {
    return List.of(
        options.assertions() ? "--assert" : "--no-assert",
        "--x-assign",
        options.unknowns() == BuildOptions.Unknowns.ZERO ? "0" : "unique",
        // Initial state is drawn, zero or one as the model is opened; this build serves all three.
        "--x-initial",
        "unique",
        // Small files, so that those of a large design can be shared out evenly between two
        // compilers; functions stay as long as they would be, since cutting those costs speed.
        // A probe build runs briefly, and somebody waits for it: short ones compile in less time.
        "--output-split",
        "2000",
        "--output-split-cfuncs",
        options.internals() ? "1000" : "20000",
        // Word after word of a signal of 40 words or more would be copied in a loop, whose counter
        // 5.006 declares in the first file of a function that it splits, and in none of the others.
        "--reloop-limit",
        "1000000000");
  }
}
