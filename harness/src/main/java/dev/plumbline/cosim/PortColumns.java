package dev.plumbline.cosim;

import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/**
 * Which 64-bit words a design's ports take: one column a word, counted over the ports in order,
 * over a port's elements by ascending index (the last dimension fastest), over an element's words
 * from the lowest. Class PortCode of the build counts alike.
 */
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
    int column = 0;
    for (Port port : design.ports()) {
      int size = port.elements() * port.words();
      places.put(port.name(), new Slice(port.name(), port, column, size));
      column += size;
    }
    count = column;
  }

  int count() {
    return count;
  }

  Collection<Slice> ports() {
    return places.values();
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
          "module "
              + module
              + " has no port '"
              + name
              + "'; the nearest are "
              + nearest(name, places.keySet()));
    }
    return element(name, array, name.substring(bracket));
  }

  private static Slice element(String name, Slice array, String indices) {
    List<Port.Range> ranges = array.port().unpacked();
    boolean closed = indices.endsWith("]");
    String inside = closed ? indices.substring(1, indices.length() - 1) : "";
    String[] parts = inside.split("\\]\\[", -1);
    boolean fits = closed && parts.length == ranges.size();
    int element = 0;
    for (int d = 0; fits && d < parts.length; d++) {
      Port.Range range = ranges.get(d);
      int low = Math.min(range.left(), range.right());
      int index = parts[d].matches("-?\\d{1,9}") ? Integer.parseInt(parts[d]) - low : -1;
      fits = index >= 0 && index < range.size();
      element = element * range.size() + index;
    }
    if (!fits) {
      throw new PortException(
          "port '"
              + array.name()
              + "' has no element '"
              + name
              + "'; "
              + (ranges.isEmpty() ? "it is no array" : "its indices are " + ranges(ranges)));
    }
    int words = array.port().words();
    return new Slice(name, array.port(), array.first() + element * words, words);
  }

  private static String ranges(List<Port.Range> ranges) {
    StringBuilder text = new StringBuilder();
    ranges.forEach(text::append);
    return text.toString();
  }

  /** The few names most like one that is not there. */
  private static String nearest(String name, Collection<String> names) {
    Map<String, Integer> distances = new HashMap<>();
    for (String other : names) {
      distances.put(other, distance(name.toLowerCase(Locale.ROOT), other.toLowerCase(Locale.ROOT)));
    }
    List<String> sorted = new ArrayList<>(names);
    sorted.sort(Comparator.comparing(distances::get));
    return sorted.isEmpty()
        ? "none: it has no ports"
        : String.join(", ", sorted.subList(0, Math.min(3, sorted.size())));
  }

  /** Edits from one word to the other (Levenshtein 1966). */
  private static int distance(String from, String to) {
    int[] row = new int[to.length() + 1];
    for (int j = 0; j < row.length; j++) {
      row[j] = j;
    }
    for (int i = 1; i <= from.length(); i++) {
      int diagonal = row[0];
      row[0] = i;
      for (int j = 1; j < row.length; j++) {
        int change = diagonal + (from.charAt(i - 1) == to.charAt(j - 1) ? 0 : 1);
        diagonal = row[j];
        row[j] = Math.min(change, 1 + Math.min(row[j - 1], row[j]));
      }
    }
    return row[to.length()];
  }
}
