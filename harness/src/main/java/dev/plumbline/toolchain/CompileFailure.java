package dev.plumbline.toolchain;

import dev.plumbline.rtl.RtlException;
import dev.plumbline.rtl.RtlException.Message;
import dev.plumbline.rtl.SourceLocation;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.regex.MatchResult;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Words for C++ that Verilator wrote and the compiler or linker does not take. */
final class CompileFailure {
  private static final int FIRST = 3;
  private static final int LONGEST = 300;

  private static final Pattern ERROR = Pattern.compile("(?m)^.*?\\b(?:fatal )?error: .*$");
  private static final Pattern UNDEFINED =
      Pattern.compile("undefined (?:reference to|symbol:?) [`'\"]?(\\w+)");

  /** Verilator's own note at each function it wants from C. */
  private static final Pattern IMPORT =
      Pattern.compile("// DPI import at (.+?):(\\d{1,9}):\\d+\\s+extern [^;]*?(\\w+)\\(");

  private static final Pattern QUOTED = Pattern.compile("['\u2018]([^'\u2019]+)['\u2019]");
  private static final Pattern WORD = Pattern.compile("[A-Za-z_]\\w*");

  private CompileFailure() {}

  /**
   * The exception: about the source, or about the compiler where that is what failed.
   *
   * @param name what was compiled, as messages call it
   * @param output what the compiler printed
   * @param code the folder with what Verilator wrote
   * @param files the sources of the design
   */
  static RuntimeException of(String name, String output, Path code, List<Path> files) {
    Set<String> undefined = new LinkedHashSet<>();
    UNDEFINED.matcher(output).results().forEach(found -> undefined.add(found.group(1)));
    if (!undefined.isEmpty()) {
      return new RtlException(
          name
              + " imports C functions that nothing it is built from defines; name the C files that"
              + " have them beside the RTL, or write them in Verilog",
          undefined.stream().map(function -> imported(function, code)).toList());
    }
    List<Message> messages = new ArrayList<>();
    List<String> errors = ERROR.matcher(output).results().map(MatchResult::group).toList();
    if (errors.isEmpty() || output.contains("internal compiler error")) {
      String text = output.isBlank() ? "it printed nothing" : "it printed: " + output.strip();
      return new ToolchainException(
          "The C++ compiler failed on "
              + name
              + " without an error in the code; "
              + text.substring(0, Math.min(LONGEST, text.length()))
              + ". Look at memory and disk space, or name another by -Dplumbline.cxx=FILE");
    }
    for (String line : errors.subList(0, Math.min(FIRST, errors.size()))) {
      String text = line.replace(code + "/", "");
      messages.add(
          new Message(
              declared(line, files).orElse(new SourceLocation("", 0)),
              text.substring(0, Math.min(LONGEST, text.length()))));
    }
    return new RtlException(
        "The C++ compiler cannot take what Verilator made of "
            + name
            + ": this Verilator writes wrong C++ for something in it; write that in another way, or"
            + " take a newer Verilator"
            + (errors.size() > FIRST ? ". The first of " + errors.size() + " errors" : ""),
        messages);
  }

  private static Message imported(String function, Path code) {
    SourceLocation place = new SourceLocation("", 0);
    try {
      Matcher note =
          IMPORT.matcher(
              Files.readString(
                  code.resolve(VerilatorArguments.PREFIX + "__Dpi.h"),
                  StandardCharsets.ISO_8859_1));
      while (note.find()) {
        if (note.group(3).equals(function)) {
          place = new SourceLocation(note.group(1), Integer.parseInt(note.group(2)));
        }
      }
    } catch (IOException e) {
      // Without the note the function's name has to do.
    }
    return new Message(place, "function \"" + function + "\" is defined nowhere");
  }

  /** Where the source declares a function, task or variable that an error speaks of. */
  private static Optional<SourceLocation> declared(String error, List<Path> files) {
    Set<String> names = new LinkedHashSet<>();
    QUOTED
        .matcher(error)
        .results()
        .flatMap(quoted -> WORD.matcher(quoted.group(1)).results())
        .forEach(
            word -> names.addAll(List.of(word.group().split("__+(?:DOT__|Vfunc_|Vtask_)?", -1))));
    for (String name : names) {
      if (name.length() > 1) {
        Pattern declaration =
            Pattern.compile(
                "\\b(?:function|task|logic|reg|wire|input|output)\\b[^;]*\\b" + name + "\\b");
        for (Path file : files) {
          Optional<SourceLocation> found = first(file, declaration);
          if (found.isPresent()) {
            return found;
          }
        }
      }
    }
    return Optional.empty();
  }

  private static Optional<SourceLocation> first(Path file, Pattern declaration) {
    try {
      List<String> lines = Files.readAllLines(file, StandardCharsets.ISO_8859_1);
      for (int i = 0; i < lines.size(); i++) {
        if (declaration.matcher(lines.get(i)).find()) {
          return Optional.of(new SourceLocation(file.toString(), i + 1));
        }
      }
    } catch (IOException e) {
      // Then the C++ line stands alone.
    }
    return Optional.empty();
  }
}
