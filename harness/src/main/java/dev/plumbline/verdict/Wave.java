package dev.plumbline.verdict;

import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;

/**
 * One signal of a waveform.
 *
 * @param scope the instances and generate scopes around it, joined by dots
 * @param name its name there; an element of an array with its index
 * @param width bits, 1 or more
 * @param values its bits in each cycle of the waveform, as a number that is not negative; null
 *     where they are not known
 */
public record Wave(String scope, String name, int width, List<BigInteger> values) {
  public Wave {
    values = Collections.unmodifiableList(new ArrayList<>(values));
  }
}
