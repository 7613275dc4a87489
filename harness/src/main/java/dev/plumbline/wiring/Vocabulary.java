package dev.plumbline.wiring;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.regex.Pattern;

/**
 * The words by which the trade names the operands of a block, and how a port's name is brought to
 * them: lower case, no underscores, without the parts that only mark a direction.
 */
public final class Vocabulary {
  /** What a port's name may begin or end with that does not name what it carries. */
  private static final Set<String> NEAR = Set.of("in", "i", "s", "inp", "input");

  private static final Set<String> FAR = Set.of("out", "o", "m", "outp", "output");
  private static final Set<String> SUBJECT =
      Set.of("ray", "box", "aabb", "sphere", "ball", "plane");
  private static final List<String> AXES = List.of("x", "y", "z");

  /** Names of three components each. */
  private static final Map<String, List<String>> VECTORS =
      Map.of(
          "origin", words("orig org o ro rayo position pos p0 start source src eye"),
          "direction", words("dir d rd rayd"),
          "inverse", words("inv invd invdir dirinv dinv idir reciprocal recip rcp invdirection"),
          "parallel", words("par flat dzero zerodir zero"),
          "min", words("minimum lo low lower boxmin bmin"),
          "max", words("maximum hi high upper boxmax bmax"),
          "centre", words("center ctr cen c"),
          "normal", words("norm nrm n"));

  /** Names of one value each, the same in every block. */
  private static final Map<String, List<String>> SCALARS =
      Map.ofEntries(
          Map.entry("radius", words("r rad")),
          Map.entry("level", words("offset d dist distance w k")),
          Map.entry("entry", words("enter near tnear t0 tmin tin tentry tenter t")),
          Map.entry("exit", words("leave far tfar t1 tmax tout texit tleave")),
          Map.entry("hit", words("ishit hits intersect intersects meets")),
          Map.entry("inside", words("isinside within")),
          Map.entry("leaving", words("isleaving back backface")),
          Map.entry("parallel", words("isparallel par")),
          Map.entry("entryface", words("face faceid")),
          Map.entry("negative", words("neg isnegative isneg")),
          Map.entry("zero", words("iszero divbyzero dbz")),
          Map.entry("overflow", words("ovf ovfl overflowed sat saturated")),
          Map.entry("root", words("y q r z result res sqrt squareroot data dout value val")),
          Map.entry("product", words("prod p y q z result res data dout value val")),
          Map.entry(
              "x", words("a d n data din value val arg operand denominator den divisor radicand")),
          Map.entry(
              "y", words("q r z result res reciprocal recip inverse inv quotient quot data dout")),
          Map.entry("a", words("x lhs left multiplicand op1 opa")),
          Map.entry("b", words("y rhs right multiplier op2 opb")));

  static final List<String> IN_VALID = words("valid vld start go req request ivalid");
  static final List<String> OUT_VALID = words("valid vld done finished ovalid");
  static final List<String> IN_READY = words("ready rdy inready inrdy readyin iready sready");
  static final List<String> OUT_READY =
      words("ready rdy outready outrdy readyout oready mready ack");
  static final List<String> RESET_HIGH = words("rst reset srst areset arst clear clr");
  static final List<String> RESET_LOW =
      words("rstn resetn nrst nreset aresetn arstn srstn rstb resetb rstni");

  private static final Pattern HUMP = Pattern.compile("([a-z0-9])([A-Z])");
  private static final Pattern SEPARATORS = Pattern.compile("[_.\\[\\]$]+");

  private Vocabulary() {}

  private static List<String> words(String spaced) {
    return List.of(spaced.split(" "));
  }

  /** What an operand may be called, the operand's own name first. */
  public static List<String> namesOf(String operand) {
    Set<String> names = new LinkedHashSet<>();
    names.add(operand.replace("_", ""));
    int at = operand.lastIndexOf('_');
    String axis = operand.substring(at + 1);
    if (at > 0 && AXES.contains(axis) && VECTORS.containsKey(operand.substring(0, at))) {
      for (String base : namesOfVector(operand.substring(0, at))) {
        names.add(base + axis);
        names.add(axis + base);
      }
    } else {
      names.addAll(SCALARS.getOrDefault(operand.replace("_", ""), List.of()));
    }
    return List.copyOf(names);
  }

  /** What a bus may be called that has the components of a vector in turn. */
  public static List<String> namesOfVector(String vector) {
    List<String> names = new ArrayList<>(List.of(vector));
    names.addAll(VECTORS.getOrDefault(vector, List.of()));
    return List.copyOf(names);
  }

  /** What a port's name may mean: as it is, and without prefixes and suffixes. */
  public static Set<String> formsOf(String port, boolean input) {
    List<String> tokens =
        List.of(SEPARATORS.split(HUMP.matcher(port).replaceAll("$1_$2").toLowerCase(Locale.ROOT)));
    Set<String> forms = new LinkedHashSet<>();
    for (int from = 0; from < tokens.size(); from++) {
      for (int to = tokens.size(); to > from; to--) {
        if (isDropped(tokens.subList(0, from), input)
            && isDropped(tokens.subList(to, tokens.size()), input)) {
          forms.add(String.join("", tokens.subList(from, to)));
        }
      }
    }
    return forms;
  }

  private static boolean isDropped(List<String> tokens, boolean input) {
    Set<String> way = input ? NEAR : FAR;
    return tokens.stream().allMatch(token -> way.contains(token) || SUBJECT.contains(token));
  }
}
