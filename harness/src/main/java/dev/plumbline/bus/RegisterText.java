package dev.plumbline.bus;

import dev.plumbline.bus.Register.Access;
import dev.plumbline.bus.Register.Field;
import dev.plumbline.text.Names;
import dev.plumbline.text.PlainText;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/** Reads registers in text. */
final class RegisterText {
  private static final int MOST_BITS = 64;
  private static final String ALL_REFUSED =
      "writes of read-only refused, or reads of write-only refused";

  private static final Pattern PORT =
      Pattern.compile("(?<not>!?)(?<name>\\w+)(?:\\[\\d+:(?<low>\\d+)])?");

  private final String file;
  private final List<Register> registers = new ArrayList<>();
  private final Map<Long, String> names = new HashMap<>(); // by address
  private String name; // of the register at hand; null before the first
  private long address;
  private List<Long> aliases = new ArrayList<>();
  private List<Field> fields = new ArrayList<>();
  private final List<Surroundings.Port> ports = new ArrayList<>();
  private final Map<Long, List<String>> refusing = new HashMap<>();
  private final List<Surroundings.Elsewhere> elsewhere = new ArrayList<>();
  private final Set<Long> left = new HashSet<>();
  private final List<Memory> memories = new ArrayList<>();
  private boolean refusesReadOnly;
  private boolean refusesWriteOnly;
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

  /** What was read beyond the registers. */
  Surroundings surroundings() {
    return new Surroundings(
        ports, refusing, elsewhere, left, memories, refusesReadOnly, refusesWriteOnly);
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
      case "memory" -> {
        finish();
        name = null;
        Memory memory = memory(words);
        for (Map.Entry<Long, String> each : names.entrySet()) {
          requireApart(each.getKey(), memory, "\"" + each.getValue() + "\"");
        }
        memories.forEach(other -> requireApart(memory.first(), other, memory.name()));
        memories.add(memory);
      }
      case "field" -> {
        require(
            words.length >= 4 && name != null,
            words,
            "field NAME BITS ACCESS, after a register, and maybe reset VALUE and volatile");
        fields.add(field(words));
      }
      case "refused-while" -> {
        require(words.length == 2 && name != null, words, "refused-while PORT after a register");
        refusing.computeIfAbsent(address, key -> new ArrayList<>()).add(words[1]);
      }
      default -> access(words);
    }
  }

  /** A line about accesses that mean nothing. */
  private void access(String... words) {
    switch (words[0]) {
      case "elsewhere" -> {
        require(
            words.length == 4 && (words[3].equals("refused") || words[3].equals("ignored")),
            words,
            "elsewhere FIRST LAST refused, or ignored");
        long last = number(words[2], -1);
        elsewhere.add(
            new Surroundings.Elsewhere(number(words[1], last), last, words[3].equals("refused")));
      }
      case "leave" -> {
        require(words.length == 2, words, "leave ADDRESS");
        left.add(number(words[1], -1));
      }
      case "writes" -> {
        require(String.join(" ", words).equals("writes of read-only refused"), words, ALL_REFUSED);
        refusesReadOnly = true;
      }
      case "reads" -> {
        require(String.join(" ", words).equals("reads of write-only refused"), words, ALL_REFUSED);
        refusesWriteOnly = true;
      }
      default ->
          throw refused(
              "\"" + PlainText.quoted(words[0]) + "\" begins no line",
              "register, field, alias, memory, refused-while, elsewhere, leave, writes and reads"
                  + " are allowed");
    }
  }

  private Memory memory(String... words) {
    if (words.length == 6 && words[4].equals("bits")) {
      long first = number(words[2], -1);
      long last = number(words[3], -1);
      require(Long.compareUnsigned(first, last) <= 0, words, "the lower address first");
      return new Memory(words[1], first, last - first + 1, bits(words[5]), Optional.empty());
    }
    require(
        words.length == 10
            && String.join(" ", words[2], words[4], words[6], words[8])
                .equals("by data words bits"),
        words,
        "memory NAME FIRST LAST bits BITS, or memory NAME by REGISTER data ADDRESS words COUNT bits"
            + " BITS");
    Register register =
        registers.stream()
            .filter(known -> known.name().equals(words[3]))
            .findFirst()
            .orElseThrow(
                () ->
                    refused(
                        "\"" + PlainText.quoted(words[3]) + "\" is no register above",
                        Names.hint(words[3], registers.stream().map(Register::name).toList())));
    require(!register.fields().isEmpty(), words, "a register with a field");
    Field lowest = register.fields().stream().min(Comparator.comparing(Field::low)).orElseThrow();
    long most = lowest.mask() >>> lowest.low();
    long count = number(words[7], most == -1 ? most : most + 1);
    require(count > 0 && lowest.access() == Access.READ_WRITE, words, "a register to be written");
    return new Memory(
        words[1],
        number(words[5], -1),
        count,
        bits(words[9]),
        Optional.of(new Memory.Index(register, lowest)));
  }

  private int bits(String word) {
    int bits = (int) number(word, MOST_BITS);
    if (bits == 0) {
      throw refused("A word of no bits keeps nothing", "1 to 64 bits are allowed");
    }
    return bits;
  }

  private void requireApart(long address, Memory memory, String whose) {
    if (Long.compareUnsigned(address, memory.first()) >= 0
        && Long.compareUnsigned(address, memory.last()) <= 0) {
      throw refused(
          String.format(
              Locale.ROOT,
              "Address 0x%x of %s is one of memory \"%s\"",
              address,
              whose,
              memory.name()),
          "an address of its own is allowed");
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
    List<String[]> belonging = new ArrayList<>(); // role and port
    for (int i = 4; i < words.length; i++) {
      if (words[i].equals("reset") && i + 1 < words.length) {
        reset = number(words[++i], -1L >>> (MOST_BITS - 1 - high + low));
      } else if (words[i].equals("volatile")) {
        isVolatile = true;
      } else if (role(words[i]).isPresent() && i + 1 < words.length) {
        belonging.add(new String[] {words[i], words[++i]});
      } else {
        throw refused(
            "\"" + PlainText.quoted(words[i]) + "\" says nothing of a field",
            "reset VALUE, volatile, set-by PORT, shows PORT and pulses PORT are allowed");
      }
    }
    // What it shows changes by itself.
    isVolatile |= belonging.stream().anyMatch(each -> each[0].equals("shows"));
    Field field = new Field(words[1], high, low, access, reset, isVolatile);
    for (Field other : fields) {
      if ((other.mask() & field.mask()) != 0) {
        throw refused(
            "Field \"" + field.name() + "\" has bits of \"" + other.name() + "\"",
            "bits of its own are allowed");
      }
    }
    belonging.forEach(each -> ports.add(port(field, role(each[0]).orElseThrow(), each[1], words)));
    return field;
  }

  private static Optional<Surroundings.Role> role(String word) {
    return Stream.of(Surroundings.Role.values())
        .filter(known -> known.toString().equals(word))
        .findFirst();
  }

  /** A port as {@code busy}, {@code !busy} or {@code count[31:16]}. */
  private Surroundings.Port port(
      Field field, Surroundings.Role role, String text, String... words) {
    Matcher matcher = PORT.matcher(text);
    boolean fits =
        switch (role) {
          case SET_BY -> field.access() == Access.ONE_TO_CLEAR;
          case SHOWS -> field.access() == Access.READ_ONLY;
          case PULSES -> field.access() == Access.WRITE_ONLY && field.high() == field.low();
        };
    require(
        matcher.matches() && fits && (role == Surroundings.Role.SHOWS || text.matches("\\w+")),
        words,
        "set-by PORT of a field one-to-clear, shows PORT, !PORT or PORT[HIGH:LOW] of one read-only,"
            + " pulses PORT of a bit write-only");
    int low = matcher.group("low") == null ? 0 : (int) number(matcher.group("low"), MOST_BITS - 1);
    return new Surroundings.Port(
        address, field, role, matcher.group("name"), low, !matcher.group("not").isEmpty());
  }

  private long place(String word) {
    long place = number(word, -1);
    if (names.containsKey(place)) {
      throw refused(
          "Address " + word + " is that of \"" + names.get(place) + "\"",
          "an address of its own is allowed");
    }
    memories.forEach(memory -> requireApart(place, memory, "\"" + name + "\""));
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
