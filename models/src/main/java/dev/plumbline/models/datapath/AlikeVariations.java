package dev.plumbline.models.datapath;

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

  /** What those are called together that one change belongs to. */
  private static List<String> words(Variation one) {
    List<String> words = new ArrayList<>();
    String own = one.toString();
    String axes = AXIS.matcher(own).replaceAll("_*");
    if (!axes.equals(own)) {
      words.add(axes);
    }
    String numbers = NUMBER.matcher(own).replaceAll("*");
    if (!numbers.equals(own)) {
      words.add(numbers);
    }
    Matcher step = OF_STEP.matcher(own);
    if (!step.matches() || one.places() > 1) {
      return words;
    }
    String rest = AXIS.matcher(step.group("rest")).replaceAll("_*");
    Step changed = one.parts().get(0).value().step();
    if (one.kind() == Variation.Kind.SIGN) { // several scalar products are wrong along one axis
      String axis = OF_AXIS.matcher(step.group("rest")).replaceAll("*$1");
      String name = OF_AXIS.matcher(step.group("name")).replaceAll("*$1");
      if (changed instanceof Multiply && !name.equals(step.group("name"))) {
        words.add("every step " + name + " " + step.group("rest"));
      } else if (!axis.equals(step.group("rest"))
          && (changed instanceof Add || changed instanceof Subtract)) {
        words.add("every sum " + axis);
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
