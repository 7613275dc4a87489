package dev.plumbline.drive;

import dev.plumbline.contract.ContractException;
import dev.plumbline.rtl.Port;
import dev.plumbline.rtl.PortLayout;
import dev.plumbline.text.Names;
import dev.plumbline.text.PlainText;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/**
 * A port, an element of an array port, or some bits of either, as a contract writes it.
 *
 * @param text as it is written
 * @param port the port
 * @param column the port or element whose column carries the bits
 * @param low the lowest bit meant, counted from 0 at the lowest of the element
 * @param width how many bits are meant
 * @param signed whether the bits are declared as a signed number
 */
public record PortRef(String text, Port port, String column, int low, int width, boolean signed) {
  // Possessive, so that a text of any length is passed over without recursion.
  private static final Pattern SHAPE =
      Pattern.compile("([A-Za-z_][\\w$]*+)((?:\\[[^\\]]*+\\])*+)((?:\\.[\\w$]++)*+)");
  private static final Pattern SUBSCRIPT = Pattern.compile("\\[(-?\\d+)(?::(-?\\d+))?\\]");

  /** Digits and sign of the longest index that Verilog's 32 bits have. */
  private static final int LONGEST_INDEX = 11;

  /** Whether a control means 1 where its port is 0, as in {@code !full}. */
  static boolean isFlipped(String control) {
    return control != null && control.startsWith("!");
  }

  /** The port of a control. */
  static String plain(String control) {
    return isFlipped(control) ? control.substring(1).strip() : control;
  }

  /** The name of the port that a text begins with. */
  static String portName(String text) {
    Matcher shape = SHAPE.matcher(text);
    return shape.matches() ? shape.group(1) : text;
  }

  /** Whether all bits of its column are meant. */
  public boolean isWhole() {
    return low == 0 && width == port.width();
  }

  /** So many of its bits from the lowest on, or itself where it has no more. */
  PortRef lowest(int bits) {
    return bits < width ? new PortRef(text, port, column, low, bits, false) : this;
  }

  /** Whether some bits are meant by both. */
  boolean overlaps(PortRef other) {
    return column.equals(other.column) && low < other.low + other.width && other.low < low + width;
  }

  /** What a text of a known shape means, of a port that is there. */
  static PortRef of(Port port, String text) {
    Matcher shape = SHAPE.matcher(text);
    List<String> subscripts = new ArrayList<>();
    if (shape.matches()) {
      Matcher each = Pattern.compile("\\[[^\\]]*\\]").matcher(shape.group(2));
      while (each.find()) {
        subscripts.add(each.group());
      }
    }
    int dimensions = port.unpacked().size();
    if (subscripts.size() < dimensions || subscripts.size() > dimensions + 1) {
      throw wrong(text, port, "it has " + dimensions + " array dimensions, each needs an index");
    }
    String column = port.name() + String.join("", subscripts.subList(0, dimensions));
    for (int d = 0; d < dimensions; d++) {
      requireOneNumber(text, port, subscripts.get(d));
    }
    String indices = column.substring(port.name().length());
    if (dimensions > 0 && PortLayout.element(port, indices).isEmpty()) {
      throw wrong(
          text,
          port,
          "its elements are "
              + port.unpacked().stream().map(Port.Range::toString).collect(Collectors.joining()));
    }
    String member = shape.matches() ? shape.group(3) : "";
    if (!member.isEmpty() && subscripts.size() == dimensions) {
      return member(text, port, column, member.substring(1));
    }
    if (!member.isEmpty()) {
      throw wrong(text, port, "bits of a member cannot be taken");
    }
    return subscripts.size() == dimensions
        ? new PortRef(text, port, column, 0, port.width(), port.signed())
        : bits(text, port, column, subscripts.get(dimensions));
  }

  private static void requireOneNumber(String text, Port port, String subscript) {
    Matcher index = SUBSCRIPT.matcher(subscript);
    if (!index.matches() || index.group(2) != null) {
      throw wrong(text, port, "an element is chosen by one number");
    }
  }

  private static PortRef member(String text, Port port, String column, String name) {
    for (Port.Field field : port.fields()) {
      if (field.name().equals(name)) {
        int width = field.high() - field.low() + 1;
        return new PortRef(text, port, column, field.low(), width, field.signed());
      }
    }
    throw wrong(
        text,
        port,
        "among its members "
            + Names.hint(name, port.fields().stream().map(Port.Field::name).toList()));
  }

  private static PortRef bits(String text, Port port, String column, String subscript) {
    Matcher select = SUBSCRIPT.matcher(subscript);
    if (!select.matches() || port.packed().size() > 1) {
      throw wrong(text, port, "bits are chosen as [high:low] of one packed dimension");
    }
    Port.Range range =
        port.packed().isEmpty() ? new Port.Range(port.width() - 1, 0) : port.packed().get(0);
    int first = position(range, select.group(1));
    int last = select.group(2) == null ? first : position(range, select.group(2));
    if (last < 0 || first < last || first >= port.width()) {
      throw wrong(text, port, "its bits are " + range);
    }
    return new PortRef(text, port, column, last, first - last + 1, false);
  }

  /** Counted from the lowest bit; -1 for an index no port has. */
  private static int position(Port.Range range, String digits) {
    if (digits.length() > LONGEST_INDEX) {
      return -1;
    }
    long index = Long.parseLong(digits);
    long at = range.left() >= range.right() ? index - range.right() : range.right() - index;
    return at == (int) at ? (int) at : -1;
  }

  private static ContractException wrong(String text, Port port, String allowed) {
    return new ContractException(
        port.location(),
        "\""
            + PlainText.quoted(text)
            + "\" is not part of port "
            + port.name()
            + ": "
            + allowed
            + ".");
  }
}
