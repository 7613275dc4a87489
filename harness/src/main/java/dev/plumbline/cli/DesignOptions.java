package dev.plumbline.cli;

import dev.plumbline.rtl.RtlSource;
import dev.plumbline.rtl.SourceOptions;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** The options that say what to read; every verb that opens a design takes the same. */
final class DesignOptions {
  @Spec(Spec.Target.MIXEE)
  private CommandSpec spec;

  @Option(
      names = "--top",
      paramLabel = "NAME",
      description = "The top module; not needed where only one module is instantiated by nobody.")
  private String top = "";

  @Option(names = "-I", paramLabel = "DIR", description = "A folder searched for `include files.")
  private List<Path> includeFolders = new ArrayList<>();

  @Option(
      names = "-y",
      paramLabel = "DIR",
      description = "A folder in which modules are found by file name.")
  private List<Path> libraryFolders = new ArrayList<>();

  @Option(names = "-D", paramLabel = "NAME[=VALUE]", description = "Defines a preprocessor macro.")
  private List<String> defines = new ArrayList<>();

  @Option(
      names = "--parameter",
      paramLabel = "NAME=VALUE",
      description = "Overrides a parameter of the top module; the value is a Verilog literal.")
  private List<String> parameters = new ArrayList<>();

  @Option(
      names = "-f",
      paramLabel = "LIST",
      description = "A flat file of further sources and options, one a line.")
  private List<Path> fileLists = new ArrayList<>();

  @Option(
      names = "--pass",
      paramLabel = "ARGUMENT",
      description = "Passed on to Verilator as it stands: a language selection, say.")
  private List<String> arguments = new ArrayList<>();

  @Parameters(paramLabel = "FILE", description = "Source files, in order.")
  private List<Path> files = new ArrayList<>();

  /** What the options say to read. */
  RtlSource source() {
    if (files.isEmpty() && fileLists.isEmpty()) {
      throw wrong("no source: name a Verilog FILE, or a file list with -f LIST");
    }
    try {
      return new SourceOptions(
              files, top, includeFolders, libraryFolders, fileLists, defines, parameters, arguments)
          .source();
    } catch (IllegalArgumentException e) {
      throw wrong(e.getMessage());
    }
  }

  private ParameterException wrong(String message) {
    return new ParameterException(spec.commandLine(), message);
  }
}
