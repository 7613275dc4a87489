package dev.plumbline.blocks;

import dev.plumbline.models.datapath.Datapath;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.BiFunction;
import java.util.function.Function;
import java.util.function.Supplier;

/**
 * What a bench declares of a block's conventions, and how else they might have been declared: in
 * one point, or in two.
 *
 * @param <S> describes the block, and never changes
 */
final class Choices<S> {
  private static final int MOST_CHANGES = 2;

  private final List<Way<S>> ways = new ArrayList<>();

  private record Way<S>(String declaration, int changes, S block) {}

  private Choices(S own) {
    ways.add(new Way<>("", 0, own));
  }

  /** A block as it is declared. */
  static <S> Choices<S> of(S own) {
    return new Choices<>(own);
  }

  /** Adds a convention: the bench's method that declares it, what is declared, how to change it. */
  <E extends Enum<E>> Choices<S> or(String method, E declared, BiFunction<S, E, S> change) {
    return or(method, declared, List.of(declared.getDeclaringClass().getEnumConstants()), change);
  }

  /** Adds a convention of which all others are given. */
  <E> Choices<S> or(String method, E declared, List<E> all, BiFunction<S, E, S> change) {
    for (Way<S> way : List.copyOf(ways)) {
      for (E other : all) {
        if (!other.equals(declared) && way.changes < MOST_CHANGES) {
          ways.add(
              new Way<>(
                  way.declaration + "." + method + "(" + other + ")",
                  way.changes + 1,
                  change.apply(way.block, other)));
        }
      }
    }
    return this;
  }

  /** What makes the datapath of each of {@link #others}. */
  Map<String, Supplier<Datapath>> suppliers(Function<S, Datapath> datapath) {
    Map<String, Supplier<Datapath>> suppliers = new LinkedHashMap<>();
    others().forEach((how, block) -> suppliers.put(how, () -> datapath.apply(block)));
    return suppliers;
  }

  /** The block under every other declaration, by what would declare it, fewest changes first. */
  Map<String, S> others() {
    Map<String, S> others = new LinkedHashMap<>();
    ways.stream()
        .filter(way -> way.changes > 0)
        .sorted(Comparator.comparingInt(Way::changes))
        .forEach(way -> others.put(way.declaration, way.block));
    return others;
  }
}
