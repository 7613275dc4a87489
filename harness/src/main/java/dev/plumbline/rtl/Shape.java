package dev.plumbline.rtl;

import dev.plumbline.rtl.Port.EnumItem;
import dev.plumbline.rtl.Port.Field;
import dev.plumbline.rtl.Port.Range;
import java.util.List;

/**
 * A data type with every name resolved.
 *
 * @param width bits of one element
 * @param signed whether an element is a signed number
 * @param packed packed dimensions, outermost first
 * @param unpacked unpacked dimensions, outermost first
 * @param fields members of a struct or union as bit ranges
 * @param enumeration the names of an enum, where the tree tells
 * @param trouble why a port of this type cannot be driven and what to use instead; empty when it
 *     can
 */
record Shape(
    int width,
    boolean signed,
    List<Range> packed,
    List<Range> unpacked,
    List<Field> fields,
    List<EnumItem> enumeration,
    String trouble) {

  static Shape bits(int width, boolean signed, List<Range> packed) {
    return new Shape(width, signed, packed, List.of(), List.of(), List.of(), "");
  }

  static Shape trouble(String trouble) {
    return new Shape(1, false, List.of(), List.of(), List.of(), List.of(), trouble);
  }

  Shape withEnumeration(List<EnumItem> items) {
    return new Shape(width, signed, packed, unpacked, fields, items, trouble);
  }

  long depth() {
    return unpacked.stream().mapToLong(Range::size).reduce(1, Math::multiplyExact);
  }
}
