package dev.plumbline.rtl;

import java.nio.file.Path;
import java.util.List;

/**
 * What people say of a source in an annotation or on a command line; {@link #source} puts it
 * together.
 *
 * @param files source files, in order
 * @param top the top module; empty where it is the only one that nobody instantiates
 * @param includeFolders folders for include files
 * @param libraryFolders folders in which modules are found by file name
 * @param fileLists files of further sources and options
 * @param defines macros, as {@code NAME} or {@code NAME=VALUE}
 * @param parameters overrides of the top module's parameters, as {@code NAME=VALUE}
 * @param arguments passed on to Verilator as they stand
 */
public record SourceOptions(
    List<Path> files,
    String top,
    List<Path> includeFolders,
    List<Path> libraryFolders,
    List<Path> fileLists,
    List<String> defines,
    List<String> parameters,
    List<String> arguments) {

  /**
   * The source that the options name.
   *
   * @return a source
   * @throws IllegalArgumentException when a parameter is not NAME=VALUE
   */
  public RtlSource source() {
    RtlSource source = RtlSource.of(files.toArray(Path[]::new)).withTop(top);
    for (Path folder : includeFolders) {
      source = source.withIncludeFolder(folder);
    }
    for (Path folder : libraryFolders) {
      source = source.withLibraryFolder(folder);
    }
    for (Path list : fileLists) {
      source = source.withFileList(list);
    }
    for (String define : defines) {
      int equals = define.indexOf('=');
      source =
          equals < 0
              ? source.withDefine(define, "")
              : source.withDefine(define.substring(0, equals), define.substring(equals + 1));
    }
    for (String parameter : parameters) {
      int equals = parameter.indexOf('=');
      if (equals < 1) {
        throw new IllegalArgumentException(
            "Parameter \"" + parameter + "\" has no value; NAME=VALUE is allowed, such as W=32.");
      }
      source =
          source.withParameter(parameter.substring(0, equals), parameter.substring(equals + 1));
    }
    for (String argument : arguments) {
      source = source.withArgument(argument);
    }
    return source;
  }
}
