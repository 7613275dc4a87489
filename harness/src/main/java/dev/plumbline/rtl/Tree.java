package dev.plumbline.rtl;

import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.List;

/**
 * Verilator's elaborated description of a design as one tree.
 *
 * @param netlist the root: modules, packages, interfaces and the type table
 * @param files the files that were read, as Verilator names them, its own among them
 * @param typed whether types tell all of packing and sign; if not, the source has to be asked
 */
record Tree(Node netlist, List<String> files, boolean typed) {
  /** The exception for a description that cannot be read. */
  static RtlException unreadable(String form, Path file, Exception cause) {
    String why =
        cause instanceof NoSuchFileException ? "there is no such file" : cause.getMessage();
    return new RtlException(
        "Cannot read Verilator's "
            + form
            + " '"
            + file
            + "': "
            + why
            + "; have Verilator write it anew",
        List.of(),
        cause);
  }

  Node top() {
    return netlist
        .children("module")
        .filter(module -> module.attribute("topModule").equals("1"))
        .findFirst()
        // 5.006 marks none where there is only one module.
        .or(() -> netlist.children("module").findFirst())
        .orElseThrow(
            () ->
                new RtlException(
                    "Verilator's description names no top module; have Verilator write it anew",
                    List.of()));
  }
}
