package dev.plumbline.rtl;

import dev.plumbline.text.PlainText;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.Collections;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Set;

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
    // A reader of JSON names the whole way down to where it was.
    String why =
        cause instanceof NoSuchFileException
            ? "there is no such file"
            : PlainText.quoted(String.valueOf(cause.getMessage()));
    return new RtlException(
        "Cannot read Verilator's "
            + form
            + " \""
            + file
            + "\": "
            + why
            + "; have Verilator write it anew",
        List.of(),
        cause);
  }

  /** The top; refused where there are several, of which Verilator marks any one or none. */
  Node top() {
    List<Node> tops = tops(netlist);
    if (tops.size() > 1) {
      throw new RtlException(
          "The source has "
              + tops.size()
              + " modules that no other module instantiates; one top is allowed. Name it by --top,"
              + " RtlSource.withTop or @DesignUnderTest(top = ...)",
          tops.stream()
              .map(
                  top ->
                      new RtlException.Message(
                          top.location, "module \"" + Hierarchy.sourceName(top) + "\""))
              .toList());
    }
    return netlist
        .children("module")
        .filter(module -> module.attribute("topModule").equals("1"))
        .findFirst()
        // 5.006 marks none where there is only one module.
        .or(() -> netlist.children("module").findFirst())
        .orElseThrow(
            () ->
                new RtlException(
                    "Verilator's description of "
                        + files.stream().filter(file -> !file.startsWith("<")).toList()
                        + " names no top module; add the file that has it",
                    List.of()));
  }

  /** The modules that no module instantiates. */
  private static List<Node> tops(Node netlist) {
    Set<Node> instantiated = Collections.newSetFromMap(new IdentityHashMap<>());
    netlist
        .all()
        .filter(node -> node.is("instance"))
        .forEach(node -> instantiated.add(node.target));
    return netlist.children("module").filter(module -> !instantiated.contains(module)).toList();
  }
}
