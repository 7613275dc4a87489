package dev.plumbline.models.datapath;

import static dev.plumbline.models.datapath.Variation.Kind.DECISION;
import static dev.plumbline.models.datapath.Variation.Kind.EXCHANGED;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * Changes of a comparison on which several steps rest: the smaller of two values, the larger, and
 * which of them comes first are decided by one comparator in hardware.
 */
final class SharedComparisons {
  private final Columns columns;
  private final Value first;
  private final Value second;
  private final List<Value> steps;

  private SharedComparisons(Columns columns, List<Value> steps) {
    this.columns = columns;
    this.first = steps.get(0).step().operand(0);
    this.second = steps.get(0).step().operand(1);
    this.steps = steps;
  }

  /** The changes of every comparison of a datapath that several steps share. */
  static List<Variation> of(Columns bound, String prefix) {
    Map<Set<Value>, List<Value>> shared = new LinkedHashMap<>();
    for (Value each : bound.datapath().values()) {
      Step step = each.step();
      boolean compares =
          step instanceof Extremum
              || (step instanceof Compare compare && compare.relation() != Compare.Relation.EQUAL);
      if (compares && step.operand(0) != step.operand(1)) {
        shared
            .computeIfAbsent(Set.of(step.operand(0), step.operand(1)), key -> new ArrayList<>())
            .add(each);
      }
    }
    shared.values().removeIf(steps -> steps.size() < 2);
    List<Variation> made = new ArrayList<>();
    shared.values().forEach(steps -> made.addAll(new SharedComparisons(bound, steps).all(prefix)));
    return made;
  }

  private List<Variation> all(String prefix) {
    String both = prefix + first.name() + " and " + prefix + second.name();
    String of =
        ", in "
            + steps.stream().map(each -> prefix + each.name()).collect(Collectors.joining(", "));
    List<Variation> made = new ArrayList<>();
    made.add(
        new Variation(
            EXCHANGED, both + " are compared in each other's place" + of, parts(this::exchanged)));
    made.add(
        new Variation(
            DECISION,
            both + " are ordered the other way, equal ones too" + of,
            parts(this::denied)));
    for (Value one : List.of(first, second)) {
      Value other = one == first ? second : first;
      String words = prefix + one.name() + " always counts as less than " + prefix + other.name();
      made.add(new Variation(DECISION, words + of, parts(each -> decided(each, one))));
    }
    if (!first.wide() && !second.wide()) {
      for (Value one : List.of(first, second)) {
        String words = both + " are compared without their lowest bits, equal ones give ";
        made.add(
            new Variation(
                DECISION, words + prefix + one.name() + of, parts(each -> blind(each, one))));
      }
    }
    return made;
  }

  @FunctionalInterface
  private interface Changed {
    Loop of(Value each);
  }

  private List<Variation.Part> parts(Changed changed) {
    return steps.stream()
        .map(each -> new Variation.Part(columns, each, changed.of(each), null))
        .toList();
  }

  private Loop exchanged(Value each) {
    Value a = each.step().operand(0);
    Value b = each.step().operand(1);
    Step other =
        each.step() instanceof Extremum extremum
            ? new Extremum(a, b, !extremum.larger())
            : new Compare(((Compare) each.step()).relation(), b, a);
    return other.bits(columns, each);
  }

  private Loop denied(Value each) {
    if (!(each.step() instanceof Compare compare)) {
      return exchanged(each);
    }
    Compare.Relation relation =
        compare.relation() == Compare.Relation.LESS
            ? Compare.Relation.AT_MOST
            : Compare.Relation.LESS;
    return new Compare(relation, compare.operand(1), compare.operand(0)).bits(columns, each);
  }

  /** With what differs in the lowest bit alone for equal, and one of the two taken where it is. */
  private Loop blind(Value each, Value taken) {
    Lane result = columns.lane(each);
    Lane a = columns.lane(each.step().operand(0));
    Lane b = columns.lane(each.step().operand(1));
    Loop own = columns.loops()[each.index()];
    if (each.step() instanceof Compare compare) {
      long equal = compare.relation() == Compare.Relation.AT_MOST ? 1 : 0;
      return count -> {
        own.run(count);
        for (int i = 0; i < count; i++) {
          result.low[i] = a.low[i] >> 1 == b.low[i] >> 1 ? equal : result.low[i];
        }
      };
    }
    Lane instead = columns.lane(taken);
    return count -> {
      own.run(count);
      for (int i = 0; i < count; i++) {
        result.low[i] = a.low[i] >> 1 == b.low[i] >> 1 ? instead.low[i] : result.low[i];
      }
    };
  }

  /** With one of the two for the smaller in every case. */
  private Loop decided(Value each, Value smaller) {
    Lane result = columns.lane(each);
    if (each.step() instanceof Extremum extremum) {
      Value larger = smaller == first ? second : first;
      LaneChange chosen = LaneChange.of(columns.lane(extremum.larger() ? larger : smaller));
      return count -> chosen.apply(result, count);
    }
    long decision = each.step().operand(0) == smaller ? 1 : 0;
    return count -> Arrays.fill(result.low, 0, count, decision);
  }
}
