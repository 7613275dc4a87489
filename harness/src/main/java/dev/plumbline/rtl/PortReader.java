package dev.plumbline.rtl;

import dev.plumbline.rtl.RtlException.Message;
import java.util.ArrayList;
import java.util.List;

/** Reads the ports of the top module and refuses, all at once, those that cannot be driven. */
final class PortReader {
  private PortReader() {}

  static List<Port> ports(Node top, Types types) {
    List<Port> ports = new ArrayList<>();
    List<Message> refused = new ArrayList<>();
    for (Node variable : top.children("var").toList()) {
      boolean port = !variable.attribute("dir").isEmpty();
      Shape shape = types.ofVariable(variable);
      if (port && shape.trouble().isEmpty()) {
        ports.add(port(variable, shape));
      } else if (port) {
        refused.add(
            new Message(variable.location, "port \"" + variable.name + "\" " + shape.trouble()));
      }
    }
    if (!refused.isEmpty()) {
      throw new RtlException(
          "Module \""
              + top.name
              + "\" has ports that cannot be driven; change them or wrap the module",
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
}
