package dev.plumbline.cosim;

import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import dev.plumbline.rtl.PortLayout;
import dev.plumbline.text.Names;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalInt;

/** Where the 64-bit words of ports and their elements are, by name: see {@link PortLayout}. */
final class PortColumns {
  /**
   * A port or an element of one.
   *
   * @param name as it was asked for
   * @param port the port
   * @param first its first column
   * @param count its columns
   */
  record Slice(String name, Port port, int first, int count) {
    boolean isInput() {
      return port.direction() == Port.Direction.INPUT;
    }

    boolean isBit() {
      return isInput() && port.width() == 1 && port.unpacked().isEmpty();
    }
  }

  private final String module;
  private final Map<String, Slice> places = new LinkedHashMap<>();
  private final int count;

  PortColumns(Design design) {
    module = design.top();
    PortLayout.firstColumns(design)
        .forEach(
            (port, first) -> {
              int size = PortLayout.columns(port);
              places.put(port.name(), new Slice(port.name(), port, first, size));
            });
    count = places.values().stream().mapToInt(Slice::count).sum();
  }

  int count() {
    return count;
  }

  Collection<Slice> ports() {
    return places.values();
  }

  boolean has(String name) {
    return places.containsKey(name);
  }

  /** The same where a name with a dot may be that of a signal inside. */
  Slice find(String name, boolean mayLookInside) {
    Slice whole = places.get(name);
    if (whole != null) {
      return whole; // as for each column of each segment: nothing is taken apart
    }
    // An escaped name of a port may have a dot of its own.
    boolean isPort = places.containsKey(name.replaceFirst("\\[.*", ""));
    if (name.indexOf('.') > 0 && !isPort && !mayLookInside) {
      throw new PortException(
          "Module "
              + module
              + " has no port \""
              + name
              + "\"; if it is a signal inside, open the model by"
              + " CompiledDesign.withInternals().open()");
    }
    return find(name);
  }

  /** Finds a port, or an element such as {@code table[3]}. */
  Slice find(String name) {
    Slice port = places.get(name);
    if (port != null) {
      return port;
    }
    int bracket = name.indexOf('[');
    Slice array = bracket < 0 ? null : places.get(name.substring(0, bracket));
    if (array == null) {
      throw new PortException(
          "Module "
              + module
              + " has no port \""
              + name
              + "\"; "
              + Names.hint(name, places.keySet()));
    }
    return element(name, array, name.substring(bracket));
  }

  private static Slice element(String name, Slice array, String indices) {
    List<Port.Range> ranges = array.port().unpacked();
    OptionalInt element = PortLayout.element(array.port(), indices);
    if (element.isEmpty()) {
      throw new PortException(
          "Port \""
              + array.name()
              + "\" has no element \""
              + name
              + "\"; "
              + (ranges.isEmpty() ? "it is no array" : "its indices are " + ranges(ranges)));
    }
    int words = array.port().words();
    return new Slice(name, array.port(), array.first() + element.getAsInt() * words, words);
  }

  private static String ranges(List<Port.Range> ranges) {
    StringBuilder text = new StringBuilder();
    ranges.forEach(text::append);
    return text.toString();
  }
}
