package dev.plumbline.toolchain;

import dev.plumbline.rtl.RtlException;
import dev.plumbline.rtl.RtlException.Message;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.rtl.SourceLocation;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;

/**
 * The C and C++ files among a source's files: the functions that a design imports. Each is compiled
 * beside the model, with Verilator's {@code svdpi.h} and the generated header within reach.
 */
final class CSources {
  private final Toolchain toolchain;
  private final List<Path> files;

  CSources(Toolchain toolchain, RtlSource source) {
    this.toolchain = toolchain;
    this.files =
        Stream.concat(source.files().stream().map(Path::toString), source.extraArguments().stream())
            .filter(name -> !name.startsWith("-") && name.matches(".*\\.(c|cc|cpp|cxx)"))
            .map(Path::of)
            .toList();
  }

  boolean none() {
    return files.isEmpty();
  }

  /** The files themselves and the user's own that they include. */
  List<Path> read(Path code) throws IOException {
    List<Path> read = new ArrayList<>();
    for (Path file : files) {
      List<String> command = command(file, code);
      command.add("-MM");
      String output = run(code, command, file).output();
      for (String name : output.substring(output.indexOf(':') + 1).split("[\\s\\\\]+", -1)) {
        if (!name.isEmpty() && !Path.of(name).startsWith(code) && !read.contains(Path.of(name))) {
          read.add(Path.of(name));
        }
      }
    }
    return read;
  }

  /** Compiles them; gives the object files. */
  List<Path> objects(Path code) throws IOException {
    List<Path> objects = new ArrayList<>();
    for (Path file : files) {
      Path object = code.resolve("user" + objects.size() + ".o");
      List<String> command = command(file, code);
      command.addAll(List.of("-c", "-o", object.toString()));
      run(code, command, file);
      objects.add(object);
    }
    return objects;
  }

  private List<String> command(Path file, Path code) {
    boolean plain = file.toString().endsWith(".c");
    return new ArrayList<>(
        List.of(
            toolchain.cxx().toString(),
            "-O2",
            "-fPIC",
            "-w",
            plain ? "-std=gnu11" : "-std=gnu++17",
            "-I" + code,
            "-I" + toolchain.include(),
            "-I" + toolchain.include().resolve("vltstd"),
            "-x",
            plain ? "c" : "c++",
            file.toString()));
  }

  private static Command.Outcome run(Path code, List<String> command, Path file)
      throws IOException {
    Command.Outcome outcome = Command.start(code.resolve("user.log"), command).await();
    outcome.requireMemory(file.toString());
    if (!outcome.succeeded()) {
      throw new RtlException(
          "The compiler cannot take " + file + "; mend what it names",
          List.of(new Message(new SourceLocation("", 0), outcome.output().strip())));
    }
    return outcome;
  }
}
