package dev.plumbline.explain;

import dev.plumbline.contract.Reference;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.datapath.Variations;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.window.Observation;
import dev.plumbline.window.Observation.Result;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/**
 * Makes cases on which changes of a datapath differ that have explained everything so far, and has
 * the DUT run them. They are looked for among cases near to wrong ones, near to right ones, and by
 * chance over all codes, the ends of formats among them.
 */
final class Separator {
  private static final int BLOCK = 1_024;

  /** Blocks of cases that are looked through for one that tells some apart. */
  private static final int BLOCKS = 8;

  /** Cases that tell, of a block. */
  private static final int MOST = 64;

  /** Cases before and after each of them, since a change may take those for it. */
  private static final int REACH = 3;

  private final List<Operand> inputs;
  private final boolean hasState;
  private final Variations variations;
  private final Function<List<long[]>, Optional<Observation>> more;

  Separator(
      Datapath datapath, Reference reference, Function<List<long[]>, Optional<Observation>> more) {
    this.inputs = reference.inputs();
    this.hasState = datapath.hasState();
    this.variations = datapath.variations(BLOCK);
    this.more = more;
  }

  /** What the DUT gave for cases that tell some apart; empty where none was found. */
  Optional<Observation> further(Collection<Integer> left, List<Observation> seen, int round) {
    RandomStream chance = RandomStream.of(RandomStream.derive(round, left.size()));
    for (int block = 0; block < BLOCKS; block++) {
      List<long[]> cases = cases(seen, chance);
      List<Integer> telling = telling(left, cases);
      if (!telling.isEmpty() && hasState) { // a case tells nothing without those before it
        return more.apply(cases.subList(0, telling.get(telling.size() - 1) + 1));
      }
      if (!telling.isEmpty()) {
        List<long[]> chosen = new ArrayList<>();
        for (int n : telling) {
          int from = Math.max(0, n - REACH);
          chosen.addAll(cases.subList(from, Math.min(cases.size(), n + REACH + 1)));
        }
        return more.apply(chosen);
      }
    }
    return Optional.empty();
  }

  private List<long[]> cases(List<Observation> seen, RandomStream chance) {
    List<long[]> wrong = new ArrayList<>();
    List<long[]> all = new ArrayList<>();
    for (Observation one : seen) {
      for (Result result : one.results()) {
        long[] words = one.places().get(result.place());
        all.add(words);
        if (result.wrong()) {
          wrong.add(words);
        }
      }
    }
    List<long[]> cases = new ArrayList<>();
    for (int n = 0; n < BLOCK; n++) {
      List<long[]> from = n % 4 == 3 || wrong.isEmpty() ? all : wrong;
      long[] words = from.get(chance.below(from.size())).clone();
      int changes = n % 4 == 0 ? 1 : 1 + chance.below(4);
      for (int i = 0; i < changes; i++) {
        change(words, all, chance);
      }
      cases.add(words);
    }
    return cases;
  }

  /**
   * One operand is another: by a bit, by 1, at an end, of another size, or that of another case.
   */
  private void change(long[] words, List<long[]> all, RandomStream chance) {
    int chosen = chance.below(inputs.size());
    int at = 0;
    for (int i = 0; i < chosen; i++) {
      at += inputs.get(i).format().words();
    }
    Format format = inputs.get(chosen).format();
    if (format.words() > 1) {
      return;
    }
    long bit = 1L << chance.below(format.width());
    long other =
        switch (chance.below(7)) {
          case 0 -> words[at] ^ bit;
          case 1 -> words[at] + bit;
          case 2 -> words[at] + 1 - chance.below(3);
          case 3 -> bit - chance.below(3);
          case 4 -> -bit + chance.below(3);
          case 5 -> -words[at];
          default -> all.get(chance.below(all.size()))[at];
        };
    words[at] = format.extend(other);
  }

  private List<Integer> telling(Collection<Integer> left, List<long[]> cases) {
    boolean[] tells = new boolean[BLOCK];
    long[][][] first = null;
    for (int change : left) {
      fill(cases);
      if (!variations.run(variations.all().get(change), BLOCK)) {
        continue;
      }
      long[][][] codes = codes();
      if (first == null) {
        first = codes;
        continue;
      }
      for (int o = 0; o < codes.length; o++) {
        for (int word = 0; word < codes[o].length; word++) {
          for (int n = 0; n < BLOCK; n++) {
            tells[n] |= codes[o][word][n] != first[o][word][n];
          }
        }
      }
    }
    List<Integer> telling = new ArrayList<>();
    for (int n = REACH; n < BLOCK - REACH && telling.size() < MOST; n++) {
      if (tells[n]) {
        telling.add(n);
      }
    }
    return telling;
  }

  private void fill(List<long[]> cases) {
    int at = 0;
    for (int i = 0; i < inputs.size(); i++) {
      for (int word = 0; word < inputs.get(i).format().words(); word++, at++) {
        long[] column = variations.input(i, word);
        for (int n = 0; n < BLOCK; n++) {
          column[n] = cases.get(n)[at];
        }
      }
    }
  }

  private long[][][] codes() {
    long[][][] codes = new long[variations.outputs().size()][][];
    for (int o = 0; o < codes.length; o++) {
      codes[o] = new long[variations.outputs().get(o).format().words()][];
      for (int word = 0; word < codes[o].length; word++) {
        codes[o][word] = variations.output(o, word).clone();
      }
    }
    return codes;
  }
}
