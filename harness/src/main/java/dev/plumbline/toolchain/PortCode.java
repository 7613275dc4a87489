package dev.plumbline.toolchain;

import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import dev.plumbline.rtl.PortLayout;
import java.util.Collection;
import java.util.Locale;
import java.util.Map;

/**
 * Writes the part of a model's C++ that is particular to its design: how each port moves to and
 * from its columns, as straight code instead of a table walked for each value.
 *
 * <p>Columns count as {@link PortLayout} says.
 */
final class PortCode {
  private PortCode() {}

  /**
   * Writes it.
   *
   * @param members what the generated class calls each port
   */
  static String of(Design design, Map<String, String> members) {
    StringBuilder inputs = new StringBuilder();
    StringBuilder outputs = new StringBuilder();
    StringBuilder draws = new StringBuilder();
    StringBuilder folds = new StringBuilder();
    StringBuilder inouts = new StringBuilder();
    StringBuilder bits = new StringBuilder();
    Map<Port, Integer> columns = PortLayout.firstColumns(design);
    for (Port port : design.ports()) {
      int column = columns.get(port);
      String member = "root." + members.get(port.name());
      if (port.direction() == Port.Direction.INPUT) {
        inputs.append(move(port, member, column, "plumb::drive<" + port.width() + ">"));
        String place = column + ", " + PortLayout.columns(port);
        draws.append("  state = plumb::draw(state, held, slots, " + place + ");\n");
        if (port.width() == 1 && port.unpacked().isEmpty()) {
          bits.append("    case " + column + ": return &" + member + ";\n");
        }
      } else {
        String sample = "plumb::sample<" + port.width() + ", " + port.signed() + ">";
        outputs.append(move(port, member, column, sample));
        String fold = "plumb::fold<" + port.width() + ">(digest, slots, ";
        folds.append("  digest = " + fold + column + ", " + port.elements() + ");\n");
        if (port.direction() == Port.Direction.INOUT) {
          inouts.append("  std::memset(&" + member + ", 0, sizeof " + member + ");\n");
        }
      }
    }
    return String.format(
        Locale.ROOT,
        """
        using Root = Vdut___024root;

        template <class At>
        inline void drive_inputs(Root& root, At at) {
        %s}

        template <class At>
        inline void sample_outputs(Root& root, At at) {
        %s}

        inline uint64_t draw_inputs(uint64_t state, const int8_t* held, int64_t* slots) {
        %s  return state;
        }

        inline uint64_t fold_outputs(uint64_t digest, const int64_t* slots) {
        %s  return digest;
        }

        // Nobody drives these from outside.
        inline void clear_inouts(Root& root) {
        %s}

        // The inputs that may be a clock or a valid.
        inline CData* input_bit(Root& root, int column) {
          switch (column) {
        %s    default: return nullptr;
          }
        }
        """,
        inputs,
        outputs,
        draws,
        folds,
        inouts,
        bits);
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
          .append("for (int " + index + " = 0; " + index + " < " + size + "; ++" + index + ")\n");
      element.append('[').append(index).append(']');
      place = place.isEmpty() ? index : "(" + place + ") * " + size + " + " + index;
    }
    String first = place.isEmpty() ? "" + column : column + " + (" + place + ") * " + port.words();
    code.append("  ".repeat(port.unpacked().size() + 1))
        .append(function + "(" + element + ", at, " + first + ");\n");
    return code.toString();
  }

  /** The names that must not be macros where the generated code is read. */
  static String undefine(Collection<String> members) {
    StringBuilder code = new StringBuilder();
    for (String member : members) {
      code.append("#undef ").append(member).append('\n');
    }
    return code.toString();
  }
}
