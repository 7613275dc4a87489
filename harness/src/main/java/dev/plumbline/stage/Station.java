package dev.plumbline.stage;

import dev.plumbline.rtl.Signal;
import java.util.Locale;

/**
 * A signal that is a step of the reference: it has the step's code a constant number of cycles
 * after the case went in.
 *
 * @param signal its place in the sample
 * @param delay those cycles
 * @param matches in how many cases it has that code
 * @param cases of how many
 * @param named whether its name is the step's as well
 */
record Station(int signal, int delay, int matches, int cases, boolean named) {
  boolean isExact() {
    return matches == cases;
  }

  /** How it was found and how sure that is. */
  String how() {
    String share =
        isExact()
            ? "equals the step in all " + cases + " cases"
            : String.format(Locale.ROOT, "equals the step in %d of %d cases", matches, cases);
    return named ? "by name; " + share : share;
  }

  /** Whether a signal has the name of a step: {@code disc_s4_q} is {@code disc} after 4 clocks. */
  static boolean isNamed(Signal signal, String step) {
    String plain = signal.name().replaceFirst("_(q|r|reg)$", "").replaceFirst("_s\\d+$", "");
    return plain.equals(step.substring(step.lastIndexOf('.') + 1));
  }
}
