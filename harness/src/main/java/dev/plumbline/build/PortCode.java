package dev.plumbline.build;

import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import java.util.Locale;

/**
 * Writes the part of a model's C++ that is particular to its design: how each port moves to and
 * from its columns, as straight code instead of a table walked for each value.
 *
 * <p>Columns count over the ports in order, over a port's elements by ascending index, over an
 * element's words from the lowest.
 */
final class PortCode {
  private PortCode() {}

  /**
   * Writes it.
   *
   * @param generated the header of the generated class, to see what its members are called
   */
  static String of(Design design, String generated) {
    StringBuilder inputs = new StringBuilder();
    StringBuilder outputs = new StringBuilder();
    StringBuilder inouts = new StringBuilder();
    StringBuilder bits = new StringBuilder();
    int column = 0;
    for (Port port : design.ports()) {
      String member = "root." + member(port.name(), generated);
      if (port.direction() == Port.Direction.INPUT) {
        inputs.append(move(port, member, column, "plumb::drive<" + port.width() + ">"));
        if (port.width() == 1 && port.unpacked().isEmpty()) {
          bits.append("    case %d: return &%s;\n".formatted(column, member));
        }
      } else {
        String sample = "plumb::sample<" + port.width() + ", " + port.signed() + ">";
        outputs.append(move(port, member, column, sample));
        if (port.direction() == Port.Direction.INOUT) {
          inouts.append("  std::memset(&%1$s, 0, sizeof %1$s);\n".formatted(member));
        }
      }
      column += port.elements() * port.words();
    }
    return """
    using Root = Vdut___024root;

    template <class At>
    inline void drive_inputs(Root& root, At at) {
    %s}

    template <class At>
    inline void sample_outputs(Root& root, At at) {
    %s}

    // Nobody drives these from outside.
    inline void clear_inouts(Root& root) {
    %s}

    // The inputs that may be a clock or a valid.
    inline CData* input_bit(Root& root, int column) {
      switch (column) {
    %s    default: return nullptr;
      }
    }
    """
        .formatted(inputs, outputs, inouts, bits);
  }

  /** One call for a plain port; loops over the elements of an array. */
  private static String move(Port port, String member, int column, String function) {
    StringBuilder code = new StringBuilder();
    StringBuilder element = new StringBuilder(member);
    String place = "";
    for (int d = 0; d < port.unpacked().size(); d++) {
      int size = port.unpacked().get(d).size();
      String index = "i" + d;
      code.append("  ".repeat(d + 1))
          .append("for (int %1$s = 0; %1$s < %2$d; ++%1$s)\n".formatted(index, size));
      element.append('[').append(index).append(']');
      place = place.isEmpty() ? index : "(" + place + ") * " + size + " + " + index;
    }
    String first = place.isEmpty() ? "" + column : column + " + (" + place + ") * " + port.words();
    code.append("  ".repeat(port.unpacked().size() + 1))
        .append("%s(%s, at, %s);\n".formatted(function, element, first));
    return code.toString();
  }

  /** The names that must not be macros where the generated code is read. */
  static String undefine(Design design) {
    StringBuilder code = new StringBuilder();
    for (Port port : design.ports()) {
      code.append("#undef ").append(encoded(port.name())).append('\n');
    }
    return code.toString();
  }

  /** The C++ member that Verilator makes of a port; one that is a word of C++ gets a prefix. */
  private static String member(String name, String generated) {
    String plain = encoded(name);
    String prefixed = "__SYM__" + plain;
    return generated.matches("(?s).*\\b" + prefixed + "\\b.*") ? prefixed : plain;
  }

  /**
   * A name as Verilator writes it in C++: each character that C++ does not take, and every second
   * underscore of a row, becomes {@code __0} and its code in hexadecimal.
   */
  static String encoded(String name) {
    StringBuilder member = new StringBuilder();
    boolean second = false;
    for (int i = 0; i < name.length(); i++) {
      char c = name.charAt(i);
      boolean letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
      boolean digit = c >= '0' && c <= '9' && i > 0;
      if (c == '_' && second) {
        member.append("__05F");
      } else if (c == '_' || letter || digit) {
        member.append(c);
      } else {
        member.append(String.format(Locale.ROOT, "__0%02x", (int) c));
      }
      second = c == '_' && !second;
    }
    return member.toString();
  }
}
