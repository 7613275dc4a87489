package dev.plumbline.blocks;

import dev.plumbline.models.solid.Sphere;

/**
 * The formula with the narrowest bounds that all results of a trial lay in. It says what was met:
 * other results of the same hardware may lie outside.
 *
 * @param formula the formula; never {@link Sphere.Formula#ANY}
 * @param cases how many cases were held to it
 * @param output the result whose widths are given
 * @param width how wide the bounds of the formula were at the median, in LSB of that result
 * @param widthOfAny the same of {@link Sphere.Formula#ANY}, over the same cases
 */
public record MeasuredFormula(
    Sphere.Formula formula, long cases, String output, long width, long widthOfAny) {
  /**
   * What was found, in words.
   *
   * @return one line
   */
  public String words() {
    return "all "
        + cases
        + " cases of a trial fit formula "
        + formula
        + ": bounds of "
        + output
        + " are then "
        + width
        + " LSB wide at the median, instead of "
        + widthOfAny;
  }
}
