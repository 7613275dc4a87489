package dev.plumbline.rtl;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;

/**
 * What to read as one design: source files, the top module and how to elaborate it.
 *
 * <pre>{@code
 * RtlSource source = RtlSource.of(Path.of("rtl/reciprocal.sv")).withTop("reciprocal").withParameter("F", "14");
 * }</pre>
 *
 * <p>Immutable. Nothing is read here; a missing file is reported when the design is elaborated.
 *
 * @param files source files in order
 * @param top the top module; empty when the sources have one module that nobody instantiates
 * @param includeFolders folders searched for {@code `include} files
 * @param libraryFolders folders searched for modules by file name
 * @param defines preprocessor macros, name to value (an empty value defines the bare name)
 * @param parameters overrides of the top module's parameters, name to Verilog literal
 * @param fileLists flat files with further sources and options, one a line
 * @param extraArguments further Verilator arguments, such as a language selection
 */
public record RtlSource(
    List<Path> files,
    String top,
    List<Path> includeFolders,
    List<Path> libraryFolders,
    Map<String, String> defines,
    Map<String, String> parameters,
    List<Path> fileLists,
    List<String> extraArguments) {

  public RtlSource {
    files = List.copyOf(files);
    Objects.requireNonNull(top, "top");
    includeFolders = List.copyOf(includeFolders);
    libraryFolders = List.copyOf(libraryFolders);
    defines = java.util.Collections.unmodifiableMap(new LinkedHashMap<>(defines));
    parameters = java.util.Collections.unmodifiableMap(new LinkedHashMap<>(parameters));
    fileLists = List.copyOf(fileLists);
    extraArguments = List.copyOf(extraArguments);
    RefusedArguments.check(extraArguments);
  }

  /**
   * Sources alone; everything else at its default.
   *
   * @param files source files in order
   * @return the source
   */
  public static RtlSource of(Path... files) {
    return new RtlSource(
        List.of(files), "", List.of(), List.of(), Map.of(), Map.of(), List.of(), List.of());
  }

  /**
   * Names the top module.
   *
   * @param module its name
   * @return a copy with that top
   */
  public RtlSource withTop(String module) {
    return new RtlSource(
        files,
        module,
        includeFolders,
        libraryFolders,
        defines,
        parameters,
        fileLists,
        extraArguments);
  }

  /**
   * Overrides a parameter of the top module.
   *
   * @param name the parameter
   * @param literal its value as a Verilog literal
   * @return a copy with that parameter
   */
  public RtlSource withParameter(String name, String literal) {
    return new RtlSource(
        files,
        top,
        includeFolders,
        libraryFolders,
        defines,
        plus(parameters, name, literal),
        fileLists,
        extraArguments);
  }

  /**
   * Defines a preprocessor macro.
   *
   * @param name the macro
   * @param value its text; empty for a bare definition
   * @return a copy with that macro
   */
  public RtlSource withDefine(String name, String value) {
    return new RtlSource(
        files,
        top,
        includeFolders,
        libraryFolders,
        plus(defines, name, value),
        parameters,
        fileLists,
        extraArguments);
  }

  /**
   * Adds a folder for {@code `include} files.
   *
   * @param folder the folder
   * @return a copy with that folder
   */
  public RtlSource withIncludeFolder(Path folder) {
    return new RtlSource(
        files,
        top,
        plus(includeFolders, folder),
        libraryFolders,
        defines,
        parameters,
        fileLists,
        extraArguments);
  }

  /**
   * Adds a folder in which modules are found by file name.
   *
   * @param folder the folder
   * @return a copy with that folder
   */
  public RtlSource withLibraryFolder(Path folder) {
    return new RtlSource(
        files,
        top,
        includeFolders,
        plus(libraryFolders, folder),
        defines,
        parameters,
        fileLists,
        extraArguments);
  }

  /**
   * Adds a file list: a flat file of sources and options.
   *
   * @param list the file
   * @return a copy with that list
   */
  public RtlSource withFileList(Path list) {
    return new RtlSource(
        files,
        top,
        includeFolders,
        libraryFolders,
        defines,
        parameters,
        plus(fileLists, list),
        extraArguments);
  }

  /**
   * Passes a further argument to Verilator as it stands. Arguments that choose what Verilator
   * writes, or how the model is driven, are refused; Plumbline chooses those.
   *
   * @param argument the argument
   * @return a copy with that argument
   * @throws RtlException when it is one of those that break the build from inside
   */
  public RtlSource withArgument(String argument) {
    return new RtlSource(
        files,
        top,
        includeFolders,
        libraryFolders,
        defines,
        parameters,
        fileLists,
        plus(extraArguments, argument));
  }

  /**
   * The arguments that make Verilator read this source, in an order that is the same every time.
   *
   * <p>They are an argument vector, one string an argument: no shell is meant to read them, so
   * nothing is quoted for one. A bare definition is {@code -DNAME}. A parameter is {@code
   * -GNAME=LITERAL}, its literal put in the words that option takes: escapes in a string are
   * replaced by the characters they stand for, and a negative sized number by its bits.
   *
   * @return the arguments, source files last
   * @throws RtlException when a string parameter holds a double quote, which the option cannot pass
   */
  public List<String> arguments() {
    List<String> arguments = new ArrayList<>();
    if (!top.isEmpty()) {
      arguments.add("--top-module");
      arguments.add(top);
    }
    includeFolders.forEach(folder -> arguments.add("-I" + folder));
    for (Path folder : libraryFolders) {
      arguments.add("-y");
      arguments.add(folder.toString());
    }
    defines.forEach(
        (name, value) -> arguments.add("-D" + name + (value.isEmpty() ? "" : "=" + value)));
    parameters.forEach(
        (name, literal) -> arguments.add("-G" + name + "=" + Literals.forOverride(name, literal)));
    for (Path list : fileLists) {
      arguments.add("-f");
      arguments.add(list.toString());
    }
    arguments.addAll(extraArguments);
    files.forEach(file -> arguments.add(file.toString()));
    return arguments;
  }

  /**
   * Why an argument cannot be passed to Verilator, and what to do instead.
   *
   * @param argument the argument
   * @return the reason, or empty when it may be passed
   */
  public static Optional<String> refusal(String argument) {
    return RefusedArguments.refusal(argument);
  }

  private static <T> List<T> plus(List<T> list, T item) {
    List<T> longer = new ArrayList<>(list);
    longer.add(item);
    return longer;
  }

  private static Map<String, String> plus(Map<String, String> map, String key, String value) {
    Map<String, String> larger = new LinkedHashMap<>(map);
    larger.put(key, value);
    return larger;
  }
}
