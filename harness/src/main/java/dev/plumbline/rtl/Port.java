package dev.plumbline.rtl;

import java.util.List;
import java.util.stream.IntStream;

/**
 * One port of the top module.
 *
 * @param name the name in the source
 * @param direction input, output or inout
 * @param width bits of one element, all packed dimensions and struct members together; 1 or more
 * @param signed whether an element is a signed number
 * @param packed packed dimensions, outermost first; empty for a single bit without a range
 * @param unpacked unpacked dimensions, outermost first; empty when the port is one element
 * @param fields members of a packed struct or union flattened to bit ranges, nested names joined by
 *     a dot, elements of a packed array of structs as {@code pose[1].angle}; empty for other types
 * @param enumeration names and codes when the type is an enum or an unpacked array of one; empty
 *     otherwise, and when Verilator's XML leaves open which of several enums it is
 * @param location where it is declared
 */
public record Port(
    String name,
    Direction direction,
    int width,
    boolean signed,
    List<Range> packed,
    List<Range> unpacked,
    List<Field> fields,
    List<EnumItem> enumeration,
    SourceLocation location) {

  public Port {
    packed = List.copyOf(packed);
    unpacked = List.copyOf(unpacked);
    fields = List.copyOf(fields);
    enumeration = List.copyOf(enumeration);
  }

  /** Which way a port's values go. */
  public enum Direction {
    /** Into the module. */
    INPUT,
    /** Out of the module. */
    OUTPUT,
    /** Both ways; sampled, never driven. */
    INOUT
  }

  /**
   * A declared range such as {@code [15:0]}.
   *
   * @param left the left bound
   * @param right the right bound
   */
  public record Range(int left, int right) {
    /**
     * The number of positions.
     *
     * @return at least 1
     */
    public int size() {
      return Math.abs(left - right) + 1;
    }

    /** Every position, the leftmost first. */
    List<Integer> indices() {
      int step = left <= right ? 1 : -1;
      return IntStream.range(0, size()).mapToObj(i -> left + i * step).toList();
    }

    @Override
    public String toString() {
      return "[" + left + ":" + right + "]";
    }
  }

  /**
   * A struct member as bits of the port.
   *
   * @param name the member's name, nested names joined by a dot
   * @param high its highest bit, counted from 0 at the port's lowest
   * @param low its lowest bit
   * @param signed whether the member is a signed number
   */
  public record Field(String name, int high, int low, boolean signed) {}

  /**
   * A name of an enum.
   *
   * @param name the name
   * @param code its value as decimal text
   */
  public record EnumItem(String name, String code) {}

  /**
   * The number of 64-bit words that one element takes.
   *
   * @return at least 1
   */
  public int words() {
    return (width + 63) / 64;
  }

  /**
   * The number of elements over all unpacked dimensions.
   *
   * @return at least 1
   */
  public int elements() {
    return unpacked.stream().mapToInt(Range::size).reduce(1, Math::multiplyExact);
  }
}
