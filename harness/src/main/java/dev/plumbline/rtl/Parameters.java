package dev.plumbline.rtl;

import java.math.BigInteger;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/** Reads the parameters of a module with their elaborated values. */
final class Parameters {
  private static final Pattern LITERAL_TEXT = Pattern.compile("(?s)\\{?\\s*\".*");

  private final SourceText source;
  private final Map<String, String> overrides;

  Parameters(SourceText source, Map<String, String> overrides) {
    this.source = source;
    this.overrides = overrides;
  }

  List<Parameter> of(Node module, Types types) {
    return module
        .children("var")
        .filter(variable -> variable.flag("param") || variable.flag("localparam"))
        .map(
            variable ->
                new Parameter(
                    variable.name,
                    value(variable, types),
                    variable.flag("localparam"),
                    variable.location))
        .toList();
  }

  private String value(Node variable, Types types) {
    return variable.children.isEmpty()
        ? ""
        : text(variable, variable.child(0), types.of(variable.type));
  }

  private String text(Node variable, Node value, Shape shape) {
    if (value.is("initarray")) {
      return value
          .children("inititem")
          .map(item -> text(variable, item.child(0), shape))
          .collect(Collectors.joining(", ", "'{", "}"));
    }
    if (value.name.startsWith("\"")) {
      return value.name.substring(1, value.name.length() - 1);
    }
    Optional<BigInteger> number = Constants.number(value.name, shape.signed());
    if (number.isEmpty()) {
      return value.name;
    }
    return isText(variable, value) ? Constants.text(number.get()) : number.get().toString();
  }

  /**
   * A parameter without a type takes a string as plain bits; only the source tells which it was.
   */
  private boolean isText(Node variable, Node value) {
    String literal = overrides.get(variable.name);
    if (literal != null && variable.flag("param")) {
      return literal.strip().startsWith("\"");
    }
    return LITERAL_TEXT.matcher(source.from(value)).matches();
  }
}
