package dev.plumbline.toolchain;

import dev.plumbline.rtl.Design;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** Makes a library of a design's translation units; several are compiled side by side. */
final class Compilation {
  private final Toolchain toolchain;
  private final Support support;
  private final Generated cpp;
  private final Support.Level level;

  Compilation(Toolchain toolchain, Support support, Generated cpp, Support.Level level) {
    this.toolchain = toolchain;
    this.support = support;
    this.cpp = cpp;
    this.level = level;
  }

  /**
   * Compiles and links.
   *
   * @param awaited whether somebody waits, who is told when it takes long
   * @return the library, in the folder of the generated code
   */
  Path of(Design design, List<String> units, CSources functions, boolean awaited)
      throws IOException {
    Resources.copy(cpp.folder(), "exports.map");
    Path library = cpp.folder().resolve("model.so");
    String name = "module " + design.top();
    String compiling =
        String.format(
            Locale.ROOT,
            "compiling %s (%d ports, %d kB of C++)",
            name,
            design.ports().size(),
            cpp.bytes() / 1000);
    String what = awaited ? compiling : "";
    for (int i = 0; i < units.size(); i++) {
      Files.writeString(unit(i, ".cpp"), units.get(i));
    }
    Command.Outcome outcome = attempt(units.size(), functions, library, what);
    outcome.requireMemory(name);
    if (!outcome.succeeded() && support.removeSpoilt(level, cpp.objects())) {
      outcome = attempt(units.size(), functions, library, what);
      outcome.requireMemory(name);
    }
    if (!outcome.succeeded()) {
      throw CompileFailure.of(name, outcome.output(), cpp.folder(), design.files());
    }
    outcome.requireFile(library);
    return library;
  }

  private Path unit(int number, String ending) {
    return cpp.folder().resolve("unit" + (number == 0 ? "" : number) + ending);
  }

  /** What came of the last command, or of the first that failed. */
  private Command.Outcome attempt(int units, CSources functions, Path library, String what)
      throws IOException {
    support.makeReady(level, cpp.objects());
    if (units == 1) { // compiled and linked by one command
      List<String> command = command();
      command.add(unit(0, ".cpp").toString());
      return Command.start(log(0), linking(command, functions, library)).await(what);
    }
    List<Command> compilers = new ArrayList<>();
    List<String> objects = new ArrayList<>();
    for (int i = 0; i < units; i++) {
      List<String> command = command();
      command.addAll(List.of("-c", unit(i, ".cpp").toString(), "-o", unit(i, ".o").toString()));
      compilers.add(Command.start(log(i), command));
      objects.add(unit(i, ".o").toString());
    }
    Optional<Command.Outcome> failed = Optional.empty();
    for (Command compiler : compilers) { // all are awaited, so that none outlives the folder
      Command.Outcome outcome = compiler.await(what);
      failed = failed.or(() -> Optional.of(outcome).filter(ended -> !ended.succeeded()));
    }
    if (failed.isPresent()) {
      return failed.get();
    }
    List<String> link = new ArrayList<>(List.of(toolchain.cxx().toString()));
    link.addAll(objects);
    return Command.start(log(units), linking(link, functions, library)).await(what);
  }

  private Path log(int number) {
    return cpp.folder().resolve("log" + number);
  }

  private List<String> command() {
    List<String> command = new ArrayList<>(List.of(toolchain.cxx().toString()));
    command.addAll(support.unitFlags(level));
    command.addAll(List.of("-include", support.header(level).resolve("model.h").toString()));
    command.addAll(List.of("-I" + cpp.folder(), "-I" + toolchain.include().resolve("vltstd")));
    return command;
  }

  private List<String> linking(List<String> command, CSources functions, Path library)
      throws IOException {
    for (String object : cpp.objects()) {
      command.add(support.object(object).toString());
    }
    functions.objects(cpp.folder()).forEach(object -> command.add(object.toString()));
    command.add("-pthread");
    command.addAll(toolchain.linker());
    // Two libraries in one process must not see each other's symbols.
    command.add("-Wl,--version-script=" + cpp.folder().resolve("exports.map"));
    command.addAll(DesignBuilder.LINK);
    command.addAll(List.of("-o", library.toString()));
    return command;
  }
}
