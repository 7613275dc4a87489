package dev.plumbline.regression;

import dev.plumbline.rtl.RtlSource;
import dev.plumbline.stimulus.RandomStream;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Predicate;
import java.util.stream.Collectors;

/**
 * The values that a module's parameters may have, and choices among them: the ends always, others
 * by seed.
 *
 * <pre>{@code
 * ParameterRanges ranges = ParameterRanges.of("W", 8, 32).and("F", 0, 31)
 *     .where(values -> values.get("F") < values.get("W"));
 * for (ParameterRanges.Choice choice : ranges.choices(SeedText.ofRun(), 3)) {
 *   regression.bench("gear " + choice, to -> bench(choice.on(rtl), choice.values(), to));
 * }
 * }</pre>
 *
 * <p>Faults of a parameterised module often show at the ends of its parameters, or at values of
 * which nobody thought; the default values alone prove little. Immutable.
 */
public final class ParameterRanges {
  /** So many draws in a row outside of the condition mean that it hardly ever holds. */
  private static final int ATTEMPTS = 10_000;

  private record Range(long least, long most) {
    /** All values are equally likely, or all sizes are, by the toss of a coin. */
    long draw(RandomStream chance) {
      long distance = most - least;
      if (chance.chance(0.5)) {
        distance >>>= chance.below(Long.SIZE - Long.numberOfLeadingZeros(distance) + 1);
      }
      return least + Long.remainderUnsigned(chance.next(), distance + 1);
    }
  }

  /**
   * A value for each parameter.
   *
   * @param values by name, in the order in which the ranges were declared
   */
  public record Choice(Map<String, Long> values) {
    /**
     * The source with these parameters.
     *
     * @param source what has the parameters
     * @return the same with its parameters overridden
     */
    public RtlSource on(RtlSource source) {
      RtlSource chosen = source;
      for (Map.Entry<String, Long> value : values.entrySet()) {
        chosen = chosen.withParameter(value.getKey(), Long.toString(value.getValue()));
      }
      return chosen;
    }

    /** Such as {@code W=8 F=0}, for names of benches. */
    @Override
    public String toString() {
      return values.entrySet().stream()
          .map(value -> value.getKey() + "=" + value.getValue())
          .collect(Collectors.joining(" "));
    }
  }

  private final Map<String, Range> ranges;
  private final Predicate<Map<String, Long>> condition;

  private ParameterRanges(Map<String, Range> ranges, Predicate<Map<String, Long>> condition) {
    this.ranges = ranges;
    this.condition = condition;
  }

  /**
   * The range of the first parameter.
   *
   * @param name the parameter
   * @param least inclusive
   * @param most inclusive, and less than 2^62 above the least
   * @return ranges to which others can be added
   * @throws IllegalArgumentException when the range has no value or too many
   */
  public static ParameterRanges of(String name, long least, long most) {
    return new ParameterRanges(Map.of(), values -> true).and(name, least, most);
  }

  /**
   * Adds the range of a further parameter.
   *
   * @param name the parameter
   * @param least inclusive
   * @param most inclusive, and less than 2^62 above the least
   * @return these ranges and that one
   * @throws IllegalArgumentException when the range has no value or too many, or the parameter has
   *     one already
   */
  public ParameterRanges and(String name, long least, long most) {
    if (ranges.containsKey(name) || least > most || !(most - (double) least < 0x1p62)) {
      throw new IllegalArgumentException(
          "Parameter \""
              + name
              + "\" cannot be "
              + least
              + " to "
              + most
              + "; allowed is one range a parameter, from the least to the most value, of fewer"
              + " than 2^62 values.");
    }
    Map<String, Range> more = new LinkedHashMap<>(ranges);
    more.put(name, new Range(least, most));
    return new ParameterRanges(more, condition);
  }

  /**
   * Adds a condition between parameters.
   *
   * @param holds whether the module allows these values; they are within their ranges
   * @return these ranges under all their conditions
   */
  public ParameterRanges where(Predicate<Map<String, Long>> holds) {
    return new ParameterRanges(ranges, condition.and(holds));
  }

  /**
   * Choices: all parameters at their least, all at their most, each by itself at its least and at
   * its most with the others by chance, and some wholly by chance. Where a condition forbids an end
   * together with another, that one is left out.
   *
   * @param seed what chance follows from; the same seed gives the same choices
   * @param drawn how many wholly by chance, 0 or more
   * @return each choice once, the ends first
   * @throws IllegalArgumentException when hardly any values meet the condition
   */
  public List<Choice> choices(long seed, int drawn) {
    RandomStream chance = RandomStream.of(RandomStream.derive(seed, "parameters"));
    Set<Choice> choices = new LinkedHashSet<>();
    Map<String, Long> least = new LinkedHashMap<>();
    Map<String, Long> most = new LinkedHashMap<>();
    ranges.forEach((name, range) -> least.put(name, range.least()));
    ranges.forEach((name, range) -> most.put(name, range.most()));
    for (Map<String, Long> end : List.of(least, most)) {
      add(choices, chance, end, 1);
      ranges.keySet().forEach(name -> add(choices, chance, Map.of(name, end.get(name)), ATTEMPTS));
    }
    int wanted = choices.size() + drawn;
    for (int i = 0; i < ATTEMPTS && choices.size() < wanted; i++) {
      add(choices, chance, Map.of(), 1);
    }
    if (choices.isEmpty()) {
      throw new IllegalArgumentException(
          "Of "
              + ATTEMPTS
              + " choices within "
              + ranges
              + " none meets the condition; narrow the ranges to what it allows.");
    }
    return new ArrayList<>(choices);
  }

  /** Adds a choice that has the fixed values, unless chance finds none that is allowed. */
  private void add(
      Set<Choice> choices, RandomStream chance, Map<String, Long> fixed, int attempts) {
    for (int i = 0; i < attempts; i++) {
      Map<String, Long> values = new LinkedHashMap<>();
      ranges.forEach(
          (name, range) ->
              values.put(name, fixed.containsKey(name) ? fixed.get(name) : range.draw(chance)));
      if (condition.test(values)) {
        choices.add(new Choice(values));
        return;
      }
    }
  }
}
