package dev.plumbline.frame;

import java.util.Objects;
import java.util.Optional;

/**
 * The ports on which pixels come out, in any order: one in each cycle in which valid and, where
 * there is such a port, ready are high.
 *
 * @param valid output of one bit
 * @param ready input of one bit; empty where nobody makes pixels wait
 * @param x output, unsigned
 * @param y output, unsigned
 * @param colour output of 24 bits: red in bits 23 to 16, green in 15 to 8, blue in 7 to 0
 */
public record PixelPorts(String valid, Optional<String> ready, String x, String y, String colour) {
  /** Checks that nothing is missing. */
  public PixelPorts {
    Objects.requireNonNull(valid, "valid");
    Objects.requireNonNull(ready, "ready");
    Objects.requireNonNull(x, "x");
    Objects.requireNonNull(y, "y");
    Objects.requireNonNull(colour, "colour");
  }

  /**
   * Pixels under valid and ready.
   *
   * @param valid output of one bit
   * @param ready input of one bit
   * @param x output
   * @param y output
   * @param colour output
   * @return the ports
   */
  public static PixelPorts of(String valid, String ready, String x, String y, String colour) {
    return new PixelPorts(valid, Optional.of(ready), x, y, colour);
  }

  /**
   * Pixels that nobody makes wait.
   *
   * @param valid output of one bit
   * @param x output
   * @param y output
   * @param colour output
   * @return the ports
   */
  public static PixelPorts of(String valid, String x, String y, String colour) {
    return new PixelPorts(valid, Optional.empty(), x, y, colour);
  }
}
