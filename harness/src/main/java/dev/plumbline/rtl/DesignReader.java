package dev.plumbline.rtl;

import dev.plumbline.rtl.RtlException.Message;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/**
 * Reads Verilator's elaborated description of a design.
 *
 * <pre>{@code
 * Design design = DesignReader.fromXml(Path.of("work/Vreciprocal.xml"), source.parameters());
 * }</pre>
 *
 * <p>The description is what {@code verilator --xml-only} writes (5.006 to 5.032 at least) or,
 * where that option is gone, {@code verilator --json-only}. Where both exist the XML is the one to
 * read: the JSON of 5.032 leaves out signs. Relative file names in it are those Verilator was
 * given; the XML tells neither {@code packed} nor string parameters apart from their neighbours, so
 * the source files it names are looked at again and should still be where they were.
 *
 * <p>Starts no process and writes nothing.
 */
public final class DesignReader {
  private DesignReader() {}

  /**
   * Reads the XML form.
   *
   * @param xml the file that {@code --xml-only} wrote
   * @param overrides the parameter overrides the design was elaborated with, name to Verilog
   *     literal
   * @return the design
   * @throws RtlException when the file cannot be read, or when a port cannot be driven; every such
   *     port is then a message
   */
  public static Design fromXml(Path xml, Map<String, String> overrides) {
    return read(XmlTree.read(xml), overrides);
  }

  private static Design read(Tree tree, Map<String, String> overrides) {
    SourceText source = new SourceText();
    Types types = new Types(tree, source);
    Node top = tree.top();
    List<Port> ports = ports(top, types);
    Hierarchy hierarchy = new Hierarchy(tree);
    ClockFinder clocks = new ClockFinder(hierarchy, types, ports);
    return new Design(
        top.attribute("origName").isEmpty() ? top.name : top.attribute("origName"),
        ports,
        new Parameters(source, overrides).of(top, types),
        clocks.clocks(ports),
        clocks.resets(ports),
        List.of(),
        List.of(),
        files(tree));
  }

  private static List<Port> ports(Node top, Types types) {
    List<Port> ports = new ArrayList<>();
    List<Message> refused = new ArrayList<>();
    for (Node variable : top.children("var").toList()) {
      boolean port = !variable.attribute("dir").isEmpty();
      Shape shape = types.ofVariable(variable);
      if (port && shape.trouble().isEmpty()) {
        ports.add(port(variable, shape));
      } else if (port) {
        refused.add(
            new Message(variable.location, "port '" + variable.name + "' " + shape.trouble()));
      }
    }
    if (!refused.isEmpty()) {
      throw new RtlException(
          "module '"
              + top.name
              + "' has ports that cannot be driven; change them or wrap the module",
          refused);
    }
    return ports;
  }

  private static Port port(Node variable, Shape shape) {
    Port.Direction direction =
        switch (variable.attribute("dir")) {
          case "input" -> Port.Direction.INPUT;
          case "output" -> Port.Direction.OUTPUT;
          default -> Port.Direction.INOUT;
        };
    return new Port(
        variable.name,
        direction,
        shape.width(),
        shape.signed(),
        shape.packed(),
        shape.unpacked(),
        shape.fields(),
        shape.enumeration(),
        variable.location);
  }

  /** Without Verilator's own library files and its names for what is no file at all. */
  private static List<Path> files(Tree tree) {
    return tree.files().stream()
        .filter(file -> !file.startsWith("<") && !file.matches(".*[/\\\\]verilated_std\\w*\\.\\w+"))
        .distinct()
        .map(Path::of)
        .toList();
  }
}
