package dev.plumbline.samples.chip;

import dev.plumbline.stimulus.RandomStream;
import java.util.ArrayList;
import java.util.List;

/**
 * Parameters of the whole chip.
 *
 * @param contexts pixels at a time
 * @param formats of words and directions
 * @param normalised parameter NORMALISE
 * @param spans parameter C
 * @param lists parameter S
 * @param addressBits parameter A
 * @param predictionBits parameter P
 * @param queue parameter Q
 * @param materialBits parameter M
 * @param xBits parameter XW
 * @param yBits parameter YW
 */
record OrreryBuild(
    int contexts,
    Formats formats,
    boolean normalised,
    int spans,
    int lists,
    int addressBits,
    int predictionBits,
    int queue,
    int materialBits,
    int xBits,
    int yBits) {

  /** Small in everything, so that it is quickly built. */
  static final OrreryBuild SMALL =
      new OrreryBuild(3, new Formats(18, 10, 14, 12), true, 1, 1, 5, 2, 9, 2, 5, 3);

  /**
   * Any that the headers allow, but for words in which no scene has room: seven whole bits and
   * eight fraction bits at least, unit vectors with two whole bits, sixteen words of program.
   */
  static OrreryBuild drawn(int contexts, RandomStream chance) {
    int word = 15 + chance.below(18);
    int fraction = 8 + chance.below(word - 14);
    int unit = 10 + chance.below(word - 9);
    int unitFraction = unit - 2;
    fraction = Math.min(fraction, 2 * unitFraction);
    int address = 4 + chance.below(6);
    return new OrreryBuild(
        contexts,
        new Formats(word, fraction, unit, unitFraction),
        chance.chance(0.7),
        1 << chance.below(4),
        1 + chance.below(6),
        address,
        1 + chance.below(address),
        2 + chance.below(1 << 1 + chance.below(7)),
        1 + chance.below(8),
        5 + chance.below(4),
        3 + chance.below(5));
  }

  String[] parameters() {
    List<String> all = new ArrayList<>(List.of(formats.parameters(normalised)));
    all.add("CONTEXTS=" + contexts);
    all.add("C=" + spans);
    all.add("S=" + lists);
    all.add("A=" + addressBits);
    all.add("P=" + predictionBits);
    all.add("Q=" + queue);
    all.add("M=" + materialBits);
    all.add("XW=" + xBits);
    all.add("YW=" + yBits);
    return all.toArray(String[]::new);
  }
}
