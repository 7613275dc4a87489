package dev.plumbline.toolchain;

import dev.plumbline.rtl.Design;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;

/**
 * A design and the shared library that is its model.
 *
 * @param design what the RTL says of itself
 * @param file the library; its content never changes
 * @param contentHash digest of the source files' content, the top module, parameters, defines and
 *     further arguments, in 64 hexadecimal digits; the same wherever the files are and whatever the
 *     tools
 * @param files what was read to make it: RTL, files that it includes, and C files; memory files are
 *     read later
 * @param hazard what the design may do to the process it runs in, such as "imports C functions";
 *     empty when it is known to be harmless
 * @param links for source files and folders whose names Verilator does not take: by the name that
 *     it and the model know, the one that the user gave
 */
public record DesignLibrary(
    Design design,
    Path file,
    String contentHash,
    List<Path> files,
    String hazard,
    Map<String, String> links) {

  public DesignLibrary {
    files = List.copyOf(files);
    links = Map.copyOf(links);
  }

  /**
   * The name of a source file as the user gave it.
   *
   * @param name the name that the model tells
   * @return the name that the user gave, or the same one
   */
  public String sourceName(String name) {
    return SourceNames.original(links, name);
  }
}
