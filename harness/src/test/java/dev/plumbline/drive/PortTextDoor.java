package dev.plumbline.drive;

import dev.plumbline.rtl.Port;
import java.util.List;

/** Ports as contracts write them, read for tests of other packages. */
public final class PortTextDoor {
  private PortTextDoor() {}

  /** Reads a text for each of some ports. */
  public static void read(List<Port> ports, String text) {
    PortRef.portName(text);
    ports.forEach(port -> PortRef.of(port, text));
  }
}
