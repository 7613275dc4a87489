package dev.plumbline.cli;

import dev.plumbline.models.fixed.Format;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Number formats as they are written on a command line: {@code s16.16}, {@code u32.0}. */
final class FormatText {
  private static final Pattern FORMAT = Pattern.compile("([su])(-?\\d{1,4})\\.(-?\\d{1,4})");

  private FormatText() {}

  /**
   * Reads a format.
   *
   * @throws IllegalArgumentException when it is none, or has more bits than formats have
   */
  static Format parse(String text) {
    Matcher matcher = FORMAT.matcher(text);
    if (!matcher.matches()) {
      throw new IllegalArgumentException("It is no format; one is s16.16 or u32.0, say.");
    }
    int whole = Integer.parseInt(matcher.group(2));
    int fraction = Integer.parseInt(matcher.group(3));
    return matcher.group(1).equals("s")
        ? Format.signed(whole, fraction)
        : Format.unsigned(whole, fraction);
  }
}
