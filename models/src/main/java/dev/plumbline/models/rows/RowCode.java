package dev.plumbline.models.rows;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Optional;

/**
 * Takes down what loops over columns do, one after the other, as C for a single row.
 *
 * <pre>{@code
 * RowCode code = new RowCode(List.of(a, b));
 * code.set(sum, "$0 + $1", a, b);
 * Optional<RowProgram> program = code.program(List.of(sum));
 * }</pre>
 *
 * <p>A column stands for what it has in the row at hand. One that is read before it is set, and is
 * no input, is taken for a constant: it has to be filled, and never changes.
 *
 * <p>In expressions {@code $0}, {@code $1} and so on are what follows them: a column, a {@code
 * long} or {@code double} as a number in every row, an {@code int} as it stands, for shifts. C has
 * Java's operators here, but {@code srl(x, n)} for {@code x >>> n}, {@code sign(x)} for {@code x >>
 * 63}, and the functions of {@code rows.h}.
 */
public final class RowCode {
  private final List<long[]> inputs;
  private final List<long[]> kept = new ArrayList<>();
  private final IdentityHashMap<Object, String> names =
      new IdentityHashMap<>(); // of a column as it is now
  private final StringBuilder statements = new StringBuilder();
  private int numbered;
  private boolean complete = true;

  /**
   * Begins a program.
   *
   * @param inputs columns that are filled before each run
   */
  public RowCode(List<long[]> inputs) {
    this.inputs = List.copyOf(inputs);
    for (int i = 0; i < inputs.size(); i++) {
      names.put(inputs.get(i), define("W", "input(" + i + ")"));
    }
  }

  /**
   * Sets a column of whole numbers in the row.
   *
   * @param column from now on this
   * @param expression what it is set to
   * @param of what {@code $0} and so on stand for
   */
  public void set(long[] column, String expression, Object... of) {
    names.put(column, define("W", filled(expression, of)));
  }

  /**
   * Sets a column of doubles in the row.
   *
   * @param column from now on this
   * @param expression what it is set to
   * @param of what {@code $0} and so on stand for
   */
  public void set(double[] column, String expression, Object... of) {
    names.put(column, define("R", filled(expression, of)));
  }

  /** Says that something happens that cannot be said: there will be no program. */
  public void cannotSay() {
    complete = false;
  }

  /**
   * All that was taken down.
   *
   * @param outputs columns that are wanted of it
   * @return the program; empty where something could not be said
   */
  public Optional<RowProgram> program(List<long[]> outputs) {
    StringBuilder all = new StringBuilder();
    for (int i = 0; i < outputs.size(); i++) {
      all.append("output(").append(i).append(", ").append(name(outputs.get(i))).append(");\n");
    }
    all.insert(0, statements);
    return complete
        ? Optional.of(new RowProgram(all.toString(), inputs, kept, List.copyOf(outputs)))
        : Optional.empty();
  }

  private String define(String type, String expression) {
    String name = "v" + numbered++;
    statements.append("const ").append(type).append(' ').append(name).append(" = ");
    statements.append(expression).append(";\n");
    return name;
  }

  private String filled(String expression, Object... of) {
    StringBuilder text = new StringBuilder();
    for (int at = 0; at < expression.length(); at++) {
      char each = expression.charAt(at);
      if (each == '$') {
        at++;
        text.append(text(of[Character.digit(expression.charAt(at), 10)]));
      } else {
        text.append(each);
      }
    }
    return text.toString();
  }

  private String text(Object part) {
    if (part instanceof Long number) {
      return "whole(" + literal(number) + ")";
    }
    if (part instanceof Double number) {
      return "real(" + Double.toHexString(number) + ")";
    }
    return part instanceof Integer number ? number.toString() : name(part);
  }

  private static String literal(long number) {
    // C has no literal for the least of all.
    return number == Long.MIN_VALUE ? "INT64_MIN" : "INT64_C(" + number + ")";
  }

  private String name(Object column) {
    String name = names.get(column);
    if (name != null) {
      return name;
    }
    if (!(column instanceof long[] codes)) {
      complete = false; // doubles that nobody has set
      return "0";
    }
    name = define("W", constant(codes));
    names.put(column, name);
    return name;
  }

  private String constant(long[] codes) {
    if (Arrays.stream(codes).allMatch(code -> code == codes[0])) {
      return "whole(" + literal(codes[0]) + ")";
    }
    kept.add(codes);
    return "input(" + (inputs.size() + kept.size() - 1) + ")";
  }
}
