package dev.plumbline.cli;

import dev.plumbline.blocks.MeasuredFormula;
import dev.plumbline.models.solid.Sphere.Formula;
import java.util.Locale;
import java.util.Optional;

/**
 * Which formula of a sphere a draft declares, and why.
 *
 * @param declared what the class declares
 * @param measured what it rests on; empty where somebody says so, or nothing was found
 */
record DraftFormula(Formula declared, Optional<MeasuredFormula> measured) {
  static final DraftFormula ANY = new DraftFormula(Formula.ANY, Optional.empty());

  /** A line of a comment is broken before so many characters. */
  private static final int LINE = 92;

  static DraftFormula of(Optional<MeasuredFormula> found) {
    return new DraftFormula(found.map(MeasuredFormula::formula).orElse(Formula.ANY), found);
  }

  boolean isAny() {
    return declared == Formula.ANY;
  }

  /** The lines above the bench, indented; empty where there is nothing to say. */
  String comment() {
    String words =
        isAny()
            ? "Bounds of any formula: .formula(Sphere.Formula.SQUARES), say, narrows them to yours."
            : measured.map(MeasuredFormula::words).map(DraftFormula::sentence).orElse("");
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
