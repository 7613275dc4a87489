package dev.plumbline.cosim;

import dev.plumbline.rtl.Port;
import java.nio.LongBuffer;
import java.util.Locale;

/** Whether words are a value of a port. */
final class Values {
  private Values() {}

  /** Refuses a wrong number of words and bits beyond the width. */
  static void check(PortColumns.Slice place, long... words) {
    if (words.length != place.count()) {
      throw new PortException(
          "Port \""
              + place.name()
              + "\" takes "
              + place.count()
              + (place.count() == 1 ? " word" : " words")
              + " of 64 bits, not "
              + words.length
              + "; give as many");
    }
    Port port = place.port();
    int step = port.words();
    int bits = port.width() - 64 * (step - 1);
    for (int i = step - 1; i < words.length; i += step) {
      if (extend(words[i], bits, port.signed()) != words[i]) {
        throw new PortException(
            "Port \""
                + place.name()
                + "\" cannot have "
                + words[i]
                + String.format(Locale.ROOT, " (0x%x)", words[i])
                + (step == 1 ? "" : " as its highest word")
                + "; allowed is "
                + range(bits, port.signed()));
      }
    }
  }

  /** Lets an input, given with any bits, have what the port takes of them. */
  static void trim(PortColumns.Slice place, LongBuffer slots) {
    Port port = place.port();
    int step = port.words();
    int bits = port.width() - 64 * (step - 1);
    for (int i = place.first() + step - 1; i < place.first() + place.count(); i += step) {
      slots.put(i, extend(slots.get(i), bits, port.signed()));
    }
  }

  static long extend(long word, int bits, boolean signed) {
    int unused = 64 - bits;
    return signed ? word << unused >> unused : word << unused >>> unused;
  }

  private static String range(int bits, boolean signed) {
    long half = 1L << (bits - 1);
    return signed ? -half + " to " + (half - 1) : "0 to " + (half - 1 + half);
  }
}
