package dev.plumbline.rtl;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalInt;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Which 64-bit words a design's ports take, one column a word: over the ports in order, over a
 * port's elements by ascending index (the last dimension fastest), over an element's words from the
 * lowest.
 *
 * <p>An element is named as in Verilog: {@code table[3]}, {@code grid[0][2]}.
 */
public final class PortLayout {
  private static final Pattern INDEX = Pattern.compile("\\[(-?\\d{1,9})\\]");

  private PortLayout() {}

  /**
   * How many columns a port takes.
   *
   * @param port the port
   * @return at least 1
   */
  public static int columns(Port port) {
    return port.elements() * port.words();
  }

  /**
   * The first column of each port.
   *
   * @param design the design
   * @return by port, in their order
   */
  public static Map<Port, Integer> firstColumns(Design design) {
    Map<Port, Integer> first = new LinkedHashMap<>();
    int column = 0;
    for (Port port : design.ports()) {
      first.put(port, column);
      column += columns(port);
    }
    return first;
  }

  /**
   * The names of a port's elements in the order of their columns.
   *
   * @param port the port
   * @return the port's own name where it is no array
   */
  public static List<String> elements(Port port) {
    return elements(port.name(), port.unpacked());
  }

  /**
   * The names of an array's elements, counted over ascending indices, the last dimension fastest.
   *
   * @param name the array's own
   * @param unpacked its dimensions, outermost first
   * @return the name itself where there are none
   */
  public static List<String> elements(String name, List<Port.Range> unpacked) {
    List<String> names = List.of(name);
    for (Port.Range range : unpacked) {
      List<String> longer = new ArrayList<>();
      for (String one : names) {
        for (int index = 0; index < range.size(); index++) {
          longer.add(one + "[" + (low(range) + index) + "]");
        }
      }
      names = longer;
    }
    return names;
  }

  /**
   * Which element of an array is meant.
   *
   * @param port the array
   * @param indices such as {@code [3]} or {@code [0][2]}, one index a dimension
   * @return its number in the order of the columns; empty where there is none of these indices
   */
  public static OptionalInt element(Port port, String indices) {
    return element(port.unpacked(), indices);
  }

  /**
   * Which element of an array is meant.
   *
   * @param unpacked the array's dimensions, outermost first
   * @param indices such as {@code [3]} or {@code [0][2]}, one index a dimension
   * @return its number, counted over ascending indices, the last dimension fastest; empty where
   *     there is none of these indices
   */
  public static OptionalInt element(List<Port.Range> unpacked, String indices) {
    int element = 0;
    int at = 0;
    Matcher next = INDEX.matcher(indices);
    for (Port.Range range : unpacked) {
      if (!next.find(at) || next.start() != at) {
        return OptionalInt.empty();
      }
      int index = Integer.parseInt(next.group(1)) - low(range);
      if (index < 0 || index >= range.size()) {
        return OptionalInt.empty();
      }
      element = element * range.size() + index;
      at = next.end();
    }
    boolean whole = at == indices.length() && !unpacked.isEmpty();
    return whole ? OptionalInt.of(element) : OptionalInt.empty();
  }

  private static int low(Port.Range range) {
    return Math.min(range.left(), range.right());
  }
}
