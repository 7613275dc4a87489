package dev.plumbline.cli;

import dev.plumbline.blocks.MeasuredFormula;
import dev.plumbline.blocks.MeasuredMargin;
import dev.plumbline.models.solid.Sphere.Formula;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * What a draft declares of a block besides its formats, and why.
 *
 * @param call the method that declares it and its argument; empty where nothing is declared
 * @param imports what the argument needs
 * @param words what it rests on, a sentence; empty where there is nothing to say
 */
record DraftFinding(List<String> call, List<String> imports, String words) {
  static final DraftFinding NONE = new DraftFinding(List.of(), List.of(), "");

  static final DraftFinding ANY_FORMULA =
      new DraftFinding(
          List.of(),
          List.of(),
          "Bounds of any formula: .formula(Sphere.Formula.SQUARES), say, narrows them to yours.");

  /** A line of a comment is broken before so many characters. */
  private static final int LINE = 92;

  /** The formula of a sphere, as somebody says it. */
  static DraftFinding formula(Formula said) {
    return said == Formula.ANY ? ANY_FORMULA : formula(said, "");
  }

  /** The formula of a sphere, as it was measured. */
  static DraftFinding formula(Optional<MeasuredFormula> found) {
    return found
        .map(measured -> formula(measured.formula(), sentence(measured.words())))
        .orElse(ANY_FORMULA);
  }

  private static DraftFinding formula(Formula declared, String words) {
    return new DraftFinding(
        List.of("formula", "Sphere.Formula." + declared),
        List.of("dev.plumbline.models.solid.Sphere"),
        words);
  }

  /** The margin of a box, as it was measured. */
  static DraftFinding margin(Optional<MeasuredMargin> found, long cases) {
    if (found.isEmpty()) {
      return new DraftFinding(
          List.of(),
          List.of(),
          "No margin fits all " + cases + " cases of a trial; a failure says what differs.");
    }
    int margin = found.get().margin();
    String words = sentence(found.get().words());
    return margin == 0
        ? new DraftFinding(List.of(), List.of(), found.get().most() == 0 ? "" : words)
        : new DraftFinding(List.of("margin", Integer.toString(margin)), List.of(), words);
  }

  /** The lines above the bench, indented; empty where there is nothing to say. */
  String comment() {
    StringBuilder comment = new StringBuilder();
    StringBuilder line = new StringBuilder();
    for (String word : words.split(" ", -1)) {
      if (line.length() + word.length() > LINE) {
        comment.append("    //").append(line).append('\n');
        line.setLength(0);
      }
      line.append(' ').append(word);
    }
    return words.isEmpty() ? "" : comment.append("    //").append(line).append('\n').toString();
  }

  private static String sentence(String words) {
    return words.substring(0, 1).toUpperCase(Locale.ROOT) + words.substring(1) + ".";
  }
}
