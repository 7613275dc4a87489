package dev.plumbline.text;

import java.util.Locale;

/**
 * Text from outside, such as a bench's name or what a DUT printed, made fit to be shown: no
 * character of it can move a cursor, ring a bell, or be half of one.
 *
 * <pre>{@code
 * PlainText.line("moon \u001b[31m\nsun")   // moon \\u001b[31m sun
 * }</pre>
 */
public final class PlainText {
  private static final int QUOTED = 200;

  private PlainText() {}

  /**
   * Text as one line.
   *
   * @param text any
   * @return the same without line breaks; control characters as {@code \}{@code u001b}, halves of
   *     characters as U+FFFD
   */
  public static String line(String text) {
    return lines(text.strip().replaceAll("\\R\\s*", " "));
  }

  /**
   * Text as it stands, over its lines.
   *
   * @param text any
   * @return the same with line breaks and tabs; other control characters as {@code \}{@code u001b},
   *     halves of characters as U+FFFD
   */
  public static String lines(String text) {
    if (text.codePoints().noneMatch(PlainText::isHidden)) {
      return text;
    }
    StringBuilder plain = new StringBuilder();
    text.replace("\r\n", "\n")
        .codePoints()
        .forEach(
            point -> {
              if (isHalf(point)) {
                plain.append('\uFFFD');
              } else if (isHidden(point)) {
                plain.append(String.format(Locale.ROOT, "\\u%04x", point));
              } else {
                plain.appendCodePoint(point);
              }
            });
    return plain.toString();
  }

  /**
   * A value as a message quotes it.
   *
   * @param text any
   * @return the same, or its first 200 characters and three points
   */
  public static String quoted(String text) {
    return text.length() <= QUOTED ? text : text.substring(0, QUOTED) + "...";
  }

  private static boolean isHidden(int point) {
    boolean turnsTheText =
        (point >= 0x202A && point <= 0x202E) || (point >= 0x2066 && point <= 0x2069);
    boolean control = Character.isISOControl(point) && point != '\n' && point != '\t';
    return control || turnsTheText || isHalf(point);
  }

  /** A surrogate that stands alone. */
  private static boolean isHalf(int point) {
    return point >= Character.MIN_SURROGATE && point <= Character.MAX_SURROGATE;
  }
}
