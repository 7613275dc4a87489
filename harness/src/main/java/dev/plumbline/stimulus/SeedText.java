package dev.plumbline.stimulus;

import dev.plumbline.text.PlainText;
import java.math.BigInteger;
import java.util.Locale;
import java.util.Optional;

/**
 * Seeds as people write them and as reports show them: a whole number of 64 bits, with a sign or
 * without.
 *
 * <pre>{@code
 * SeedText.parse("-1") == SeedText.parse("18446744073709551615")     // true
 * SeedText.parse(SeedText.of(seed)) == seed                           // true
 * long seed = SeedText.ofRun();                                       // -Dplumbline.seed=20261129
 * }</pre>
 */
public final class SeedText {
  /** The property that sets the seed of a run. */
  public static final String PROPERTY = "plumbline.seed";

  private static final long SPREADSHEET = 1_000_000_000_000_000L; // keeps 15 digits of a number

  private SeedText() {}

  /**
   * Reads a seed.
   *
   * @param text decimal from -2<sup>63</sup> to 2<sup>64</sup>-1, or hexadecimal with 0x before it
   *     to 2<sup>64</sup>-1; space around it is left out
   * @return its 64 bits
   * @throws IllegalArgumentException when it is nothing of the kind
   */
  public static long parse(String text) {
    String digits = text.strip().toLowerCase(Locale.ROOT);
    // To read millions of digits would take minutes.
    boolean hexadecimal = digits.matches("0x[0-9a-f]{1,100}");
    if (hexadecimal || digits.matches("[-+]?[0-9]{1,100}")) {
      BigInteger value =
          hexadecimal ? new BigInteger(digits.substring(2), 16) : new BigInteger(digits);
      if (value.bitLength() <= (value.signum() < 0 ? Long.SIZE - 1 : Long.SIZE)) {
        return value.longValue();
      }
    }
    throw new IllegalArgumentException(
        "A seed cannot be \""
            + PlainText.quoted(text)
            + "\"; a whole number of 64 bits is allowed, with a sign or without, decimal or"
            + " hexadecimal with 0x before it.");
  }

  /**
   * Writes a seed, so that a spreadsheet keeps all its digits.
   *
   * @param seed any value
   * @return decimal up to 15 digits, else hexadecimal with 0x before it
   */
  public static String of(long seed) {
    return seed > -SPREADSHEET && seed < SPREADSHEET
        ? Long.toString(seed)
        : String.format(Locale.ROOT, "0x%016x", seed);
  }

  /**
   * The seed of this process's run.
   *
   * @return what property {@code plumbline.seed} says; 1 where it is not set or empty
   * @throws IllegalArgumentException when it says something else than a seed
   */
  public static long ofRun() {
    return ofRun(Optional.ofNullable(System.getProperty(PROPERTY)));
  }

  /**
   * The seed of a run by what a property says.
   *
   * @param property its value
   * @return the seed; 1 where it is not set or empty
   * @throws IllegalArgumentException when it says something else than a seed
   */
  public static long ofRun(Optional<String> property) {
    String text = property.orElse("");
    try {
      return text.isBlank() ? 1 : parse(text);
    } catch (IllegalArgumentException e) {
      throw new IllegalArgumentException("Property " + PROPERTY + ": " + e.getMessage(), e);
    }
  }
}
