package dev.plumbline.explain;

import dev.plumbline.contract.Reference;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.datapath.Variation;
import dev.plumbline.models.datapath.Variations;
import dev.plumbline.window.Observation;
import dev.plumbline.window.Observation.Result;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.List;
import java.util.stream.IntStream;

/** Holds what was observed to a changed reference. */
final class ChangedReference {
  private final Observation seen;
  private final List<long[]> places;
  private int[] origins; // where each place stands in what was seen; null where all do
  private final List<Result> results;
  private final List<Operand> operands;
  private final int[] outputs;
  private final long[][][] predicted; // low or high, check, word

  /** Over all places, for as many results as given. */
  ChangedReference(
      Observation seen, List<long[]> places, List<Result> results, Reference reference) {
    this.seen = seen;
    this.places = places;
    this.results = results;
    this.operands = reference.inputs();
    this.outputs = seen.outputs();
    this.predicted = new long[2][outputs.length][];
    for (int c = 0; c < outputs.length; c++) {
      int words = reference.outputs().get(outputs[c]).format().words();
      predicted[0][c] = new long[words];
      predicted[1][c] = new long[words];
    }
  }

  /** Some results with the places near them, close together. */
  static ChangedReference near(
      Observation seen, List<Result> some, int reach, Reference reference) {
    List<long[]> places = new ArrayList<>();
    List<Integer> origins = new ArrayList<>();
    List<Result> results = new ArrayList<>();
    for (Result one : some) {
      int from = Math.max(0, one.place() - reach);
      int to = Math.min(seen.places().size(), one.place() + reach + 1);
      int at = places.size() + one.place() - from;
      places.addAll(seen.places().subList(from, to));
      IntStream.range(from, to).forEach(origins::add);
      results.add(new Result(at, one.codes(), one.low(), one.high(), one.wrong()));
    }
    ChangedReference near = new ChangedReference(seen, places, results, reference);
    near.origins = origins.stream().mapToInt(Integer::intValue).toArray();
    return near;
  }

  /** The places up to the last of some results, with all results there: for what has state. */
  static ChangedReference upTo(Observation seen, List<Result> some, Reference reference) {
    int last = some.stream().mapToInt(Result::place).max().orElse(0);
    return new ChangedReference(
        seen,
        seen.places().subList(0, Math.min(seen.places().size(), last + 1)),
        seen.results().stream().filter(result -> result.place() <= last).toList(),
        reference);
  }

  int places() {
    return places.size();
  }

  Observation seen() {
    return seen;
  }

  /** The words that stood so many cycles or cases after a place's own. */
  long[] beside(int place, int far) {
    return seen.beside(origins == null ? place : origins[place], far);
  }

  /** Where state begins anew. */
  BitSet begins() {
    return seen.begins().get(0, places.size());
  }

  /** Places in which a case was taken. */
  BitSet taken() {
    BitSet taken = new BitSet();
    IntStream.range(0, places.size())
        .filter(place -> seen.taken().get(origins == null ? place : origins[place]))
        .forEach(taken::set);
    return taken;
  }

  /** Column of an operand's word. */
  @FunctionalInterface
  interface Inputs {
    long[] column(int operand, int word);
  }

  void fill(Inputs inputs) {
    int at = 0;
    for (int i = 0; i < operands.size(); i++) {
      for (int word = 0; word < operands.get(i).format().words(); word++) {
        long[] column = inputs.column(i, word);
        for (int place = 0; place < places.size(); place++) {
          column[place] = places.get(place)[at];
        }
        at++;
      }
    }
  }

  /** Whether every result agrees with a datapath of which one step is changed. */
  boolean agrees(Variations variations, Variation change) {
    if (!variations.run(change, places.size())) {
      return false;
    }
    return agrees(variations::output, variations::output);
  }

  /** Right results whose case a changed step has another code in, though nothing shows it. */
  int disturbed(Variations variations, Variation change) {
    boolean[] differs = variations.disturbs(change, places.size());
    int disturbed = 0;
    for (Result result : results) {
      disturbed += !result.wrong() && differs[result.place()] ? 1 : 0;
    }
    return disturbed;
  }

  /** Whether every result agrees with columns of least and greatest codes, by output and word. */
  boolean agrees(Inputs low, Inputs high) {
    for (Result result : results) {
      for (int c = 0; c < outputs.length; c++) {
        for (int word = 0; word < predicted[0][c].length; word++) {
          predicted[0][c][word] = low.column(outputs[c], word)[result.place()];
          predicted[1][c][word] = high.column(outputs[c], word)[result.place()];
        }
      }
      if (!seen.agrees(result, predicted[0], predicted[1])) {
        return false;
      }
    }
    return true;
  }
}
