package dev.plumbline.rtl;

import dev.plumbline.rtl.Port.Range;
import java.math.BigDecimal;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Reads the parameters of a module with their elaborated values. */
final class Parameters {
  private static final Set<String> UNTYPED = Set.of("parameter", "localparam");

  /** An unsigned number of whole bytes from 0x20 to 0x7e. */
  private static final Pattern PRINTABLE = Pattern.compile("\\d+'h(?:[2-6][0-9a-f]|7[0-9a-e])+");

  private static final Pattern LITERAL_TEXT = Pattern.compile("(?s)\\{?\\s*\".*");

  /** Some versions print large reals as {@code 6.02e+23.0}. */
  private static final Pattern REAL = Pattern.compile("([-+]?[\\d.]+(?:e[-+]?\\d+)?)(?:\\.0)?");

  private final Types types;
  private final SourceText source;
  private final Map<String, String> overrides;

  Parameters(Types types, SourceText source, Map<String, String> overrides) {
    this.types = types;
    this.source = source;
    this.overrides = overrides;
  }

  List<Parameter> of(Node module) {
    return module
        .children("var")
        .filter(variable -> variable.flag("param") || variable.flag("localparam"))
        .map(
            variable ->
                new Parameter(
                    variable.name, value(variable), variable.flag("localparam"), variable.location))
        .toList();
  }

  private String value(Node variable) {
    if (variable.children.isEmpty()) {
      return "";
    }
    String text = text(variable, variable.child(0), variable.type);
    boolean quoted = text.length() > 1 && text.startsWith("\"") && text.endsWith("\"");
    return quoted ? text.substring(1, text.length() - 1) : text;
  }

  /** The value as text, strings in double quotes. */
  private String text(Node variable, Node value, Node type) {
    Node plain = type;
    while (plain != null && plain.is("refdtype")) {
      plain = plain.type;
    }
    if (value.is("initarray") && plain != null && plain.is("unpackarraydtype")) {
      return array(variable, value, plain);
    }
    if (plain != null && plain.is("basicdtype") && plain.name.equals("real")) {
      return real(value.name);
    }
    boolean signed = plain != null && types.of(plain).signed();
    Optional<BigInteger> number = Constants.number(value.name, signed);
    if (number.isEmpty()) {
      return value.name;
    }
    return isText(variable, value)
        ? '"' + Constants.text(number.get()) + '"'
        : number.get().toString();
  }

  /** The leftmost element first, as an assignment pattern has it; the tree counts up. */
  private String array(Node variable, Node value, Node type) {
    List<String> items = new ArrayList<>();
    value.children("inititem").forEach(item -> items.add(text(variable, item.child(0), type.type)));
    Range range = Types.rangeOf(type);
    if (range.left() > range.right()) {
      Collections.reverse(items);
    }
    return "'{" + String.join(", ", items) + "}";
  }

  private static String real(String text) {
    Matcher matcher = REAL.matcher(text);
    if (!matcher.matches()) {
      return text;
    }
    double value = Double.parseDouble(matcher.group(1));
    return new BigDecimal(Double.toString(value)).stripTrailingZeros().toPlainString();
  }

  /**
   * A parameter without a type takes a string as plain bits; only the source tells which it was.
   */
  private boolean isText(Node variable, Node value) {
    String literal = overrides.get(variable.name);
    if (literal != null && variable.flag("param")) {
      return literal.strip().startsWith("\"");
    }
    return LITERAL_TEXT.matcher(source.from(value)).matches() || looksLikeText(variable, value);
  }

  /**
   * Where the source shows no literal, because a macro or an option gave the value, bytes that are
   * all printable are taken as text. Plain numbers there are signed, so they are not meant.
   */
  private boolean looksLikeText(Node variable, Node value) {
    boolean elsewhere = source.from(value).startsWith("`") || value.samePlaceAs(variable);
    boolean untyped = UNTYPED.contains(source.wordBefore(variable));
    String name = value.name;
    return elsewhere && untyped && PRINTABLE.matcher(name).matches();
  }
}
