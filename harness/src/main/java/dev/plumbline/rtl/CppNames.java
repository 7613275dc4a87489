package dev.plumbline.rtl;

import dev.plumbline.rtl.RtlException.Message;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/**
 * Finds the C++ member that Verilator makes of each port.
 *
 * <pre>{@code
 * Map<String, String> members = CppNames.members(design.ports(), Files.readString(header));
 * members.get("foo+bar");                // foo__02bbar
 * }</pre>
 *
 * <p>Verilator spells characters that C++ does not take as {@code __0} and two hexadecimal digits,
 * the second of two underscores as {@code __05F}, and puts {@code __SYM__} before C++ keywords
 * (found by experiment on 5.006, 5.032 and 5.048, which differ in what they call a keyword). Names
 * of more than 127 characters become a hash. The header it generated settles every doubt.
 */
public final class CppNames {
  /** A port, or what may be one: 5.048 declares an unpacked array like any other array. */
  private static final Pattern MEMBER =
      Pattern.compile(
          "VL_(?:IN|OUT|INOUT)(?:8|16|64|W)?\\(\\(?&?(\\w+)\\)?[\\[\\],\\d]"
              + "|VlUnpacked<.*> (\\w+);");

  /**
   * Functions and members of the generated class, and the types and macros it is written in, as
   * 5.006 to 5.048 have them. Other words of C and C++ do no harm.
   */
  private static final Pattern TAKEN =
      Pattern.compile(
          "eval|eval_step|eval_end_step|eventsPending|nextTimeSlot|name|hierName|modelName|threads"
              + "|contextp|rootp|vlSymsp|prepareClone|atClone|[CSIQEW]Data|Vdut\\w*|VL_\\w+"
              + "|Vl[A-Z]\\w*|Verilated\\w*");

  /** Those that only some versions have, whose headers then declare them. */
  private static final Pattern SOMETIMES =
      Pattern.compile("\\b(?:void|bool) (trace|traceBaseModel|traceCapable)\\b");

  private CppNames() {}

  /**
   * Pairs ports with the members of the generated model class.
   *
   * @param ports the ports of the top module
   * @param header the text of the headers Verilator generated for the model and its root
   * @return member names by port name
   * @throws RtlException when a port has no member in the header, or a name that the class needs
   */
  public static Map<String, String> members(List<Port> ports, String header) {
    Set<String> declared =
        SOMETIMES.matcher(header).results().map(it -> it.group(1)).collect(Collectors.toSet());
    List<Message> taken =
        ports.stream()
            .filter(port -> TAKEN.matcher(port.name()).matches() || declared.contains(port.name()))
            .map(port -> new Message(port.location(), "port \"" + port.name() + "\""))
            .toList();
    if (!taken.isEmpty()) {
      throw new RtlException(
          "Ports have names that the C++ which Verilator writes needs for itself; rename them, or"
              + " wrap the module in one with other port names",
          taken);
    }
    Set<String> left = new LinkedHashSet<>();
    Matcher matcher = MEMBER.matcher(header);
    while (matcher.find()) {
      left.add(matcher.group(1) == null ? matcher.group(2) : matcher.group(1));
    }
    Map<String, String> members = new HashMap<>();
    List<Port> open = new ArrayList<>();
    for (Port port : ports) {
      String plain = encode(port.name());
      String member = left.contains(plain) ? plain : "__SYM__" + plain;
      if (left.remove(member)) {
        members.put(port.name(), member);
      } else {
        open.add(port);
      }
    }
    List<String> hashed = left.stream().filter(name -> name.contains("__Vhsh")).toList();
    if (open.size() == 1 && hashed.size() == 1) {
      members.put(open.get(0).name(), hashed.get(0));
    } else if (!open.isEmpty()) {
      throw new RtlException(
          "Verilator's header has no member for some ports; give them shorter names",
          open.stream()
              .map(port -> new Message(port.location(), "port \"" + port.name() + "\""))
              .toList());
    }
    return members;
  }

  /** A name as Verilator spells it in C++, keywords apart. */
  static String encode(String name) {
    StringBuilder encoded = new StringBuilder();
    for (int i = 0; i < name.length(); i++) {
      char c = name.charAt(i);
      boolean letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
      boolean digit = c >= '0' && c <= '9';
      if (letter || (digit && i > 0)) {
        encoded.append(c);
      } else if (c == '_') {
        boolean pair = i + 1 < name.length() && name.charAt(i + 1) == '_';
        encoded.append(pair ? "___05F" : "_");
        i += pair ? 1 : 0;
      } else {
        encoded.append(String.format(Locale.ROOT, "__0%02x", (int) c));
      }
    }
    return encoded.toString();
  }
}
