package dev.plumbline.models.datapath;

import java.math.BigInteger;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Changes of several steps alike: of three axes, of the rounds of a loop that is unrolled, of every
 * step that rounds or saturates in one way, of all that choose by one condition. What stands there
 * several times has its fault several times.
 */
final class AlikeVariations {
  /** The end of a name that tells three of a kind apart. */
  private static final Pattern AXIS = Pattern.compile("_[xyz](?![A-Za-z0-9])");

  /** The number at the end of a name that tells the rounds of a loop apart. */
  private static final Pattern NUMBER = Pattern.compile("(?<=[A-Za-z_])\\d+(?![A-Za-z0-9])");

  /** A name that ends in an axis, whatever it begins with. */
  private static final Pattern OF_AXIS = Pattern.compile("\\b[A-Za-z]\\w*(_[xyz])(?![A-Za-z0-9])");

  private static final Pattern OF_STEP = Pattern.compile("step (?<name>\\S+) (?<rest>.*)");

  /** Axes go around. */
  private static final int AXES = 3;

  private AlikeVariations() {}

  /** The changes of several steps that can be made of changes of one. */
  static List<Variation> of(List<Variation> all) {
    Map<String, List<Variation>> alike = new LinkedHashMap<>();
    for (Variation one : all) {
      for (String words : words(one)) {
        alike.computeIfAbsent(words, key -> new ArrayList<>()).add(one);
      }
    }
    List<Variation> several = new ArrayList<>();
    alike.forEach(
        (words, some) -> {
          long steps =
              some.stream()
                  .flatMap(one -> one.parts().stream())
                  .map(Variation.Part::result)
                  .distinct()
                  .count();
          boolean isOneEach = steps == some.stream().mapToInt(Variation::places).sum();
          if (some.size() > 1 && isOneEach) {
            several.add(together(some, words));
          }
        });
    return several;
  }

  static Variation together(List<Variation> some, String words) {
    return new Variation(
        some.get(0).kind(), words, some.stream().flatMap(one -> one.parts().stream()).toList());
  }

  /** Two steps of the same operands in each other's place, as a sum and a difference. */
  static List<Variation> exchanged(Columns bound, String prefix) {
    List<Variation> made = new ArrayList<>();
    List<Value> values = bound.datapath().values();
    for (Value a : values) {
      for (Value b : values.subList(a.index() + 1, values.size())) {
        boolean isPair =
            a.step().operands().size() > 1
                && a.step().operands().equals(b.step().operands())
                && a.format().width() == b.format().width()
                && a.format().fractionBits() == b.format().fractionBits()
                && a.wide() == b.wide();
        if (isPair) {
          made.add(
              new Variation(
                  Variation.Kind.EXCHANGED,
                  "steps " + prefix + a.name() + " and " + prefix + b.name() + " are exchanged",
                  List.of(
                      new Variation.Part(bound, a, b.step().bits(bound, a), null),
                      new Variation.Part(bound, b, a.step().bits(bound, b), null))));
        }
      }
    }
    return made;
  }

  private static char firstAxis(String words) {
    Matcher axis = AXIS.matcher(words);
    return axis.find() ? words.charAt(axis.end() - 1) : 'x';
  }

  /**
   * The same for each axis: what is of the first axis that is spoken of has a star, what is of
   * another has how far that is from it, around from z to x.
   */
  private static String ofAxis(String words, char first) {
    return AXIS.matcher(words)
        .replaceAll(
            found -> {
              int further = (words.charAt(found.end() - 1) - first + AXES) % AXES;
              return further == 0 ? "_*" : "_*+" + further;
            });
  }

  /**
   * The same for each round: the first number that is spoken of has a star, others count from it.
   */
  private static String ofRound(String words) {
    Matcher number = NUMBER.matcher(words);
    if (!number.find()) {
      return words;
    }
    BigInteger first = new BigInteger(number.group());
    return NUMBER
        .matcher(words)
        .replaceAll(
            found -> {
              BigInteger further = new BigInteger(found.group()).subtract(first);
              return switch (further.signum()) {
                case 0 -> "*";
                case 1 -> "*+" + further;
                default -> "*" + further;
              };
            });
  }

  /** What those are called together that one change belongs to. */
  private static List<String> words(Variation one) {
    List<String> words = new ArrayList<>();
    String own = one.toString();
    char axis = firstAxis(own);
    String axes = ofAxis(own, axis);
    if (!axes.equals(own)) {
      words.add(axes);
    }
    String numbers = ofRound(own);
    if (!numbers.equals(own)) {
      words.add(numbers);
    }
    Matcher step = OF_STEP.matcher(own);
    if (!step.matches() || one.places() > 1) {
      return words;
    }
    String rest = ofAxis(step.group("rest"), axis);
    Step changed = one.parts().get(0).value().step();
    if (one.kind() == Variation.Kind.SIGN) { // several scalar products are wrong along one axis
      String along = OF_AXIS.matcher(step.group("rest")).replaceAll("*$1");
      String name = OF_AXIS.matcher(step.group("name")).replaceAll("*$1");
      if (changed instanceof Multiply && !name.equals(step.group("name"))) {
        words.add("every step " + name + " " + step.group("rest"));
      } else if (!along.equals(step.group("rest"))
          && (changed instanceof Add || changed instanceof Subtract)) {
        words.add("every sum " + along);
      }
    }
    boolean isConversion =
        one.kind() == Variation.Kind.ROUNDING || one.kind() == Variation.Kind.OVERFLOW;
    if (rest.startsWith("rounds ")) {
      words.add("every step that rounds so " + rest);
    } else if (isConversion && changed instanceof Convert) {
      words.add("every step that converts so " + rest);
    }
    if (isConversion && changed instanceof Convert) {
      words.add(
          "every step from "
              + changed.operand(0).format()
              + " to "
              + changed.declaredFormat()
              + " "
              + rest);
    } else if (changed instanceof Select && rest.startsWith("chooses by ")) {
      words.add("every step that " + rest);
    }
    return words;
  }
}
