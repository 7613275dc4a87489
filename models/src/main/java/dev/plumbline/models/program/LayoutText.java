package dev.plumbline.models.program;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.parsing.Location;
import dev.plumbline.models.parsing.TextException;
import dev.plumbline.models.parsing.Tokens;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/** The text form of word layouts. */
public final class LayoutText {
  private static final int WIDEST = 1 << 16;
  private static final int MOST_FRACTION_BITS = 128;

  private final Tokens tokens;

  private LayoutText(String text) {
    tokens = new Tokens("word layout", text);
  }

  static WordLayout parse(String text) {
    return new LayoutText(text).read();
  }

  private WordLayout read() {
    tokens.expect("word");
    WordLayout.Builder layout = WordLayout.builder(tokens.integer("the bits of a word", 1, WIDEST));
    tokens.expect("bits");
    tokens.expect(LayoutField.OPCODE);
    int[] place = place(16);
    layout.opcode(place[0], place[1]);
    Set<OperationKind> known = new HashSet<>();
    while (!tokens.peek().isEnd()) {
      operation(layout, known);
    }
    try {
      return layout.build();
    } catch (IllegalArgumentException e) {
      throw tokens.fault(tokens.peek().place(), e);
    }
  }

  private void operation(WordLayout.Builder layout, Set<OperationKind> known) {
    Location place = tokens.peek().place();
    OperationKind kind = kind(known);
    tokens.expect("is");
    layout.code(kind, tokens.integer("its opcode", 0, 0xffff));
    List<String> names = new ArrayList<>(names(kind));
    names.addAll(kind.derived());
    while (names.contains(tokens.peek().text())) {
      String name = tokens.next().text();
      names.remove(name);
      field(layout, kind, name);
    }
    if (!tokens.peek().isEnd() && !isOperation(tokens.peek().text())) {
      throw unexpected(known);
    }
    try {
      layout.check(kind);
    } catch (IllegalArgumentException e) {
      throw tokens.fault(place, e);
    }
  }

  private OperationKind kind(Set<OperationKind> known) {
    for (OperationKind kind : OperationKind.values()) {
      if (!known.contains(kind) && tokens.passes(kind.toString())) {
        known.add(kind);
        return kind;
      }
    }
    throw unexpected(known);
  }

  private static boolean isOperation(String word) {
    return Arrays.stream(OperationKind.values()).anyMatch(kind -> kind.toString().equals(word));
  }

  private TextException unexpected(Set<OperationKind> known) {
    List<OperationKind> left = new ArrayList<>(List.of(OperationKind.values()));
    left.removeAll(known);
    return tokens.unexpected(
        "a field that the operation has and that is not given yet, or another operation of "
            + left);
  }

  /**
   * The fields of an operation, as the text names them.
   *
   * @param kind the operation
   * @return their names in order
   */
  public static List<String> names(OperationKind kind) {
    List<String> names = new ArrayList<>();
    if (kind.isSolid()) {
      names.add(LayoutField.MATERIAL);
    } else if (kind == OperationKind.SKIP) {
      names.add(LayoutField.TARGET);
    }
    names.addAll(kind.operands());
    return names;
  }

  private void field(WordLayout.Builder layout, OperationKind kind, String name) {
    boolean isOperand = isNumber(kind, name);
    int[] place = place(isOperand ? Long.SIZE : 31);
    boolean signed = isOperand;
    int fraction = 0;
    if (isOperand && tokens.passes("unsigned")) {
      signed = false;
    }
    if (isOperand && tokens.passes("with")) {
      fraction =
          tokens.integer("the number of fraction bits", -MOST_FRACTION_BITS, MOST_FRACTION_BITS);
      tokens.expect("fraction");
      tokens.expect("bits");
    }
    layout.put(kind, name, new LayoutField(place[0], new Format(signed, place[1], fraction)));
  }

  /** Whether a field has a sign and a scale of its own. */
  private static boolean isNumber(OperationKind kind, String name) {
    return kind.operands().contains(name) || kind.derived().contains(name);
  }

  /** Lowest bit and number of bits. */
  private int[] place(int most) {
    tokens.expect("in");
    tokens.expect("bits");
    int lowest = tokens.integer("the lowest bit", 0, WIDEST - 1);
    tokens.expect("to");
    int highest = tokens.integer("the highest bit", lowest, lowest + most - 1);
    return new int[] {lowest, highest - lowest + 1};
  }

  static String print(
      int width,
      LayoutField opcode,
      Map<OperationKind, Integer> codes,
      Map<OperationKind, Map<String, LayoutField>> fields) {
    StringBuilder out = new StringBuilder();
    out.append("word ").append(width).append(" bits\n");
    out.append(LayoutField.OPCODE).append(place(opcode)).append('\n');
    codes.forEach(
        (kind, code) -> {
          out.append(kind).append(" is ").append(code).append('\n');
          fields
              .get(kind)
              .forEach(
                  (name, field) -> {
                    out.append("  ").append(name).append(place(field));
                    out.append(scale(isNumber(kind, name), field.format())).append('\n');
                  });
        });
    return out.toString();
  }

  private static String place(LayoutField field) {
    return " in bits " + field.lowest() + " to " + (field.end() - 1);
  }

  private static String scale(boolean isOperand, Format format) {
    String sign = isOperand && !format.signed() ? " unsigned" : "";
    int fraction = format.fractionBits();
    return sign + (fraction == 0 ? "" : " with " + fraction + " fraction bits");
  }
}
