package dev.plumbline.contract;

import dev.plumbline.models.datapath.Variation;
import java.util.Objects;

/**
 * What a DUT may compute in the place of a reference: a mistake that is often made in blocks of its
 * kind. Where the DUT is wrong, it is held to each; what it agrees with in all that was looked at
 * is likely to be what is wrong with it. No verdict rests on one.
 *
 * <pre>{@code
 * new Suspect(Variation.Kind.SIGN, "angles are compared without their signs", unsignedAngles)
 * }</pre>
 *
 * @param kind what kind of mistake it is
 * @param words the mistake, for reports
 * @param reference what the DUT computes then, of the same operands in the same order
 */
public record Suspect(Variation.Kind kind, String words, Reference reference) {
  /** None of them may be missing. */
  public Suspect {
    Objects.requireNonNull(kind, "kind");
    Objects.requireNonNull(words, "words");
    Objects.requireNonNull(reference, "reference");
  }
}
