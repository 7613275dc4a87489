package dev.plumbline.rtl;

import java.util.List;

/**
 * Verilator's elaborated description of a design as one tree.
 *
 * @param netlist the root: modules, packages, interfaces and the type table
 * @param files the files that were read, as Verilator names them, its own among them
 * @param typed whether types tell all of packing and sign; if not, the source has to be asked
 */
record Tree(Node netlist, List<String> files, boolean typed) {
  Node top() {
    return netlist
        .children("module")
        .filter(module -> module.attribute("topModule").equals("1"))
        .findFirst()
        .orElseThrow(
            () -> new RtlException("Verilator's description names no top module", List.of()));
  }
}
