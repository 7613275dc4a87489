package dev.plumbline.bus;

import dev.plumbline.bus.Register.Access;
import dev.plumbline.bus.Register.Field;
import dev.plumbline.text.Names;
import dev.plumbline.text.PlainText;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;

/** Reads registers in text. */
final class RegisterText {
  private static final int MOST_BITS = 64;

  private final String file;
  private final List<Register> registers = new ArrayList<>();
  private final Map<Long, String> names = new HashMap<>(); // by address
  private String name; // of the register at hand; null before the first
  private long address;
  private List<Long> aliases = new ArrayList<>();
  private List<Field> fields = new ArrayList<>();
  private int line;

  RegisterText(String file) {
    this.file = file;
  }

  List<Register> read(String text) {
    for (String each : text.split("\n", -1)) {
      line++;
      String plain = each.replaceFirst("#.*", "").strip();
      if (!plain.isEmpty()) {
        declaration(plain.split("\\s+", -1));
      }
    }
    finish();
    if (registers.isEmpty()) {
      throw refused("no register is declared", "one or more are allowed");
    }
    return registers;
  }

  private void declaration(String... words) {
    switch (words[0]) {
      case "register" -> {
        require(words.length == 3, words, "register NAME ADDRESS");
        finish();
        name = words[1];
        address = place(words[2]);
      }
      case "alias" -> {
        require(words.length == 2 && name != null, words, "alias ADDRESS after a register");
        aliases.add(place(words[1]));
      }
      case "field" -> {
        require(
            words.length >= 4 && name != null,
            words,
            "field NAME BITS ACCESS, after a register, and maybe reset VALUE and volatile");
        fields.add(field(words));
      }
      default ->
          throw refused(
              "\"" + PlainText.quoted(words[0]) + "\" begins no line",
              "register, field and alias are allowed");
    }
  }

  private Field field(String... words) {
    String[] bits = words[2].split(":", -1);
    int high = (int) number(bits[0], MOST_BITS - 1);
    int low = bits.length == 1 ? high : (int) number(bits[1], MOST_BITS - 1);
    require(bits.length < 3 && high >= low, words, "bits as HIGH:LOW");
    Access access =
        Stream.of(Access.values())
            .filter(known -> known.toString().equals(words[3]))
            .findFirst()
            .orElseThrow(
                () ->
                    refused(
                        "\"" + PlainText.quoted(words[3]) + "\" is no access",
                        Names.hint(
                            words[3], Stream.of(Access.values()).map(Access::toString).toList())));
    long reset = 0;
    boolean isVolatile = false;
    for (int i = 4; i < words.length; i++) {
      if (words[i].equals("reset") && i + 1 < words.length) {
        reset = number(words[++i], -1L >>> (MOST_BITS - 1 - high + low));
      } else if (words[i].equals("volatile")) {
        isVolatile = true;
      } else {
        throw refused(
            "\"" + PlainText.quoted(words[i]) + "\" says nothing of a field",
            "reset VALUE and volatile are allowed");
      }
    }
    Field field = new Field(words[1], high, low, access, reset, isVolatile);
    for (Field other : fields) {
      if ((other.mask() & field.mask()) != 0) {
        throw refused(
            "Field \"" + field.name() + "\" has bits of \"" + other.name() + "\"",
            "bits of its own are allowed");
      }
    }
    return field;
  }

  private long place(String word) {
    long place = number(word, -1);
    if (names.containsKey(place)) {
      throw refused(
          "Address " + word + " is that of \"" + names.get(place) + "\"",
          "an address of its own is allowed");
    }
    names.put(place, name);
    return place;
  }

  /** Unsigned, in decimal or hexadecimal. */
  private long number(String word, long most) {
    try {
      boolean isHex = word.startsWith("0x") || word.startsWith("0X");
      long value =
          isHex ? Long.parseUnsignedLong(word.substring(2), 16) : Long.parseUnsignedLong(word);
      if (Long.compareUnsigned(value, most) <= 0) {
        return value;
      }
    } catch (NumberFormatException e) {
      // reported below
    }
    throw refused(
        "\"" + PlainText.quoted(word) + "\" is no number here",
        "0 to 0x" + Long.toHexString(most) + " are allowed");
  }

  private void finish() {
    if (name != null) {
      registers.add(new Register(name, address, aliases, fields));
    }
    aliases = new ArrayList<>();
    fields = new ArrayList<>();
  }

  private void require(boolean holds, String[] words, String allowed) {
    if (!holds) {
      throw refused(
          "\"" + PlainText.quoted(String.join(" ", words)) + "\" cannot be read",
          allowed + " is allowed");
    }
  }

  private BusException refused(String what, String allowed) {
    return new BusException(file + ":" + line + ": " + what + "; " + allowed + ". Mend the line.");
  }
}
