package dev.plumbline.cli;

import dev.plumbline.blocks.BoxBench;
import dev.plumbline.blocks.SphereBench;
import dev.plumbline.check.Bench;
import dev.plumbline.cli.DraftPorts.Sharing;
import dev.plumbline.contract.ContractException;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.rtl.Clock;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import dev.plumbline.rtl.RtlSource;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.Function;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * Writes the test class that holds a design to its mathematics, from nothing but its ports.
 *
 * <pre>{@code
 * String test = BenchDraft.of(design, source).word(Format.signed(16, 16)).text("BallTest");
 * }</pre>
 *
 * <p>Which block it is follows from the names of the ports where they leave no doubt. Ports say how
 * wide numbers are but not where their point is: unless set, words have it in the middle, and
 * directions have two whole bits.
 */
public final class BenchDraft {
  /** What each block needs that no other has, and which of its operands shows a format. */
  private enum Block {
    SPHERE("SphereBench", "origin_x direction_x centre_x radius", "origin direction centre"),
    PLANE("PlaneBench", "origin_x direction_x normal_x level", "origin direction normal"),
    BOX("BoxBench", "origin_x min_x max_x", "origin direction inverse min max"),
    MULTIPLIER("MultiplierBench", "a b", ""),
    SQUARE_ROOT("SquareRootBench", "x", ""),
    RECIPROCAL("ReciprocalBench", "x", "");

    private final String bench;
    private final String operands;
    private final String vectors;

    Block(String bench, String operands, String vectors) {
      this.bench = bench;
      this.operands = operands;
      this.vectors = vectors;
    }

    List<String> operands() {
      return List.of(operands.split(" ", -1));
    }

    String option() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  /** Cases that tell formulas apart, and cases of which some are as near as margins differ. */
  private static final long FORMULA_CASES = 10_000;

  private static final long MARGIN_CASES = 100_000;

  private static final String OVERFLOW =
      "    // A product too large saturates: .overflow(Overflow.WRAP) where yours wraps.\n";

  private static final String CLOCKS =
      "    // Several clocks: set each one's period, and its phase against the first.\n";

  private static final List<String> ROOT_WORDS = List.of("sqrt", "root", "radicand", "isqrt");
  private static final List<String> RECIPROCAL_WORDS =
      List.of(
          "recip reciprocal rcp inv inverse den denominator divisor quot quotient".split(" ", -1));

  private final Design design;
  private final RtlSource source;
  private final DraftPorts ports;
  private String block = "";
  private Format word;
  private Format direction;
  private Format result;
  private DraftFinding finding = DraftFinding.NONE;

  private BenchDraft(Design design, RtlSource source) {
    this.design = design;
    this.source = source;
    this.ports = new DraftPorts(design);
  }

  /**
   * Starts a draft.
   *
   * @param design what the RTL says of itself
   * @param source where it was read from, which the test class will name
   * @return a draft
   */
  public static BenchDraft of(Design design, RtlSource source) {
    return new BenchDraft(design, source);
  }

  /**
   * Sets which block it is.
   *
   * @param name sphere, plane, box, multiplier, square_root or reciprocal; guessed when empty
   * @return this draft
   */
  public BenchDraft block(String name) {
    block = name;
    return this;
  }

  /**
   * Sets the format of words.
   *
   * @param format its width has to be that of the ports
   * @return this draft
   */
  public BenchDraft word(Format format) {
    word = format;
    return this;
  }

  /**
   * Sets the format of directions.
   *
   * @param format its width has to be that of the ports
   * @return this draft
   */
  public BenchDraft direction(Format format) {
    direction = format;
    return this;
  }

  /**
   * Sets the format of a unit's result.
   *
   * @param format its width has to be that of the port
   * @return this draft
   */
  public BenchDraft result(Format format) {
    result = format;
    return this;
  }

  /**
   * Names the test class after the module.
   *
   * @return such as {@code BallPipelineTest}
   */
  public String className() {
    String joined =
        Stream.of(design.top().split("[^A-Za-z0-9]+"))
            .filter(part -> !part.isEmpty())
            .map(part -> part.substring(0, 1).toUpperCase(Locale.ROOT) + part.substring(1))
            .collect(Collectors.joining());
    return (joined.isEmpty() || Character.isDigit(joined.charAt(0)) ? "Dut" : "") + joined + "Test";
  }

  /** Sets what a sphere or a box declares besides its formats. */
  BenchDraft finding(DraftFinding found) {
    finding = found;
    return this;
  }

  /** Whether the class is one of a sphere; an exception where the ports leave that open. */
  boolean isSphere() {
    return kind() == Block.SPHERE;
  }

  /** What a trial on the DUT tells of a sphere's formula or of a box's margin. */
  DraftFinding measured(Supplier<Bench.Builder> bench) {
    Block kind = kind();
    if (kind == Block.SPHERE) {
      SphereBench sphere =
          SphereBench.of(bench.get()).word(solidWord(kind)).direction(solidDirection(kind));
      return DraftFinding.formula(buses(kind).on(sphere).measureFormula(FORMULA_CASES));
    }
    if (kind == Block.BOX) {
      BoxBench box = buses(kind).on(box(bench.get()));
      return DraftFinding.margin(box.measureMargin(MARGIN_CASES), MARGIN_CASES);
    }
    return DraftFinding.NONE;
  }

  /** The ports of a solid that have all axes of a vector. */
  private DraftBuses buses(Block kind) {
    List<String> vectors = List.of(kind.vectors.split(" "));
    return new DraftBuses(
        ports.vectors(vectors, Sharing.IN_TURN),
        ports.vectors(vectors, Sharing.SIDE_BY_SIDE),
        ports.vectors(vectors, Sharing.ELEMENTS));
  }

  private BoxBench box(Bench.Builder bench) {
    BoxBench box = BoxBench.of(bench).word(solidWord(Block.BOX));
    return byDirection()
        ? box.direction(solidDirection(Block.BOX))
        : box.inverse(inverse(Block.BOX));
  }

  private Format solidWord(Block kind) {
    return word == null ? asSigned(middle(kind, "origin_x", true)) : word;
  }

  private boolean byDirection() {
    return direction != null || ports.find("direction_x", true).isPresent();
  }

  private Format inverse(Block kind) {
    return asSigned(middle(kind, "inverse_x", true));
  }

  private Format solidDirection(Block kind) {
    Format ports = middle(kind, "direction_x", true);
    return direction == null ? Format.signed(2, ports.width() - 2) : direction;
  }

  /**
   * Writes the class.
   *
   * @param className its name
   * @return a source file, in no package
   * @throws ContractException when the ports leave open which block it is
   */
  public String text(String className) {
    Block kind = kind();
    DraftBuses buses = buses(kind);
    DraftFinding found =
        kind == Block.SPHERE && finding.equals(DraftFinding.NONE)
            ? DraftFinding.ANY_FORMULA
            : finding;
    StringBuilder text = new StringBuilder();
    String calls;
    try {
      requireWidths(kind);
      calls = calls(kind);
    } catch (IllegalArgumentException e) {
      throw new ContractException(
          "The ports of module "
              + design.top()
              + " cannot carry the operands of a "
              + kind.option()
              + ": "
              + e.getMessage());
    }
    List<String> imports = new ArrayList<>();
    imports.add("dev.plumbline.check.Bench");
    imports.add("dev.plumbline.junit.DesignUnderTest");
    imports.add("dev.plumbline.models.fixed.Format");
    imports.addAll(found.imports());
    if (!buses.inTurn().isEmpty()) {
      imports.add("dev.plumbline.contract.Beats");
    }
    imports.add("dev.plumbline.blocks." + kind.bench);
    imports.add("org.junit.jupiter.api.Test");
    String clocks = clocks();
    if (!clocks.isEmpty()) {
      imports.add("dev.plumbline.cosim.Clocking");
      imports.add("dev.plumbline.cosim.DutOptions");
    }
    imports.sort(null);
    imports.forEach(name -> text.append("import ").append(name).append(";\n"));
    text.append("\n/** Holds module ")
        .append(design.top())
        .append(" to the mathematics of a ")
        .append(kind.option().replace('_', ' '))
        .append(". */\n")
        .append(DraftAnnotation.of(design.top(), source))
        .append("class ")
        .append(className)
        .append(" {\n  @Test\n  void meetsTheMathematics(Bench.Builder bench) {\n")
        .append(found.comment())
        .append(calls.contains(".product(") ? OVERFLOW : "")
        .append(buses.comment())
        .append(clocks)
        .append("    ")
        .append(kind.bench)
        .append(".of(bench)\n")
        .append(calls)
        .append(found.call().isEmpty() ? "" : call(found.call().get(0), found.call().get(1)))
        .append(buses.calls())
        .append("        .check();\n  }\n}\n");
    return text.toString();
  }

  /** Several clocks are driven as the user says; how they lie against each other is not in RTL. */
  private String clocks() {
    // First the one that most ports follow: its cycles are the rows of the bench.
    List<Clock> clocks =
        design.clocks().stream().sorted(Comparator.comparing(this::followers).reversed()).toList();
    if (clocks.size() < 2) {
      return "";
    }
    StringBuilder text = new StringBuilder(CLOCKS);
    text.append("    bench.options(\n        DutOptions.defaults().withClocking(Clocking.of(\"");
    text.append(clocks.get(0).port()).append("\", 1)");
    for (Clock clock : clocks.subList(1, clocks.size())) {
      text.append(".with(\"").append(clock.port()).append("\", 1, 0)");
    }
    return text.append("));\n").toString();
  }

  private int followers(Clock clock) {
    return Collections.frequency(design.portClocks().values(), clock.port());
  }

  private Block kind() {
    if (!block.isEmpty()) {
      return Stream.of(Block.values())
          .filter(kind -> kind.option().equals(block.toLowerCase(Locale.ROOT)))
          .findFirst()
          .orElseThrow(() -> undecided("There is no block \"" + block + "\""));
    }
    for (Block solid : List.of(Block.SPHERE, Block.PLANE, Block.BOX)) {
      if (solid.operands().stream().allMatch(operand -> ports.find(operand, true).isPresent())) {
        return solid;
      }
    }
    if (ports.dataInputs() == 2
        && Block.MULTIPLIER.operands().stream().allMatch(o -> ports.find(o, true).isPresent())) {
      return Block.MULTIPLIER;
    }
    boolean root = ports.speakOf(ROOT_WORDS);
    boolean reciprocal = ports.speakOf(RECIPROCAL_WORDS);
    if (ports.dataInputs() == 1 && root != reciprocal) {
      return root ? Block.SQUARE_ROOT : Block.RECIPROCAL;
    }
    throw undecided("The ports of module " + design.top() + " do not tell which block it is");
  }

  private ContractException undecided(String what) {
    return refusal().ofBlock(what);
  }

  private DraftRefusal refusal() {
    return new DraftRefusal(design, Stream.of(Block.values()).map(Block::option).toList());
  }

  private String calls(Block kind) {
    Map<String, Format> formats = new LinkedHashMap<>();
    Function<String, Format> input = operand -> middle(kind, operand, true);
    switch (kind) {
      case SPHERE, PLANE, BOX -> {
        formats.put("word", solidWord(kind));
        if (byDirection()) {
          formats.put("direction", solidDirection(kind));
        } else {
          formats.put("inverse", inverse(kind));
        }
        return lines(formats);
      }
      case MULTIPLIER -> {
        String both = call("operands", say(input.apply("a")) + ", " + say(input.apply("b")));
        Format product = middle(kind, "product", false);
        int full = input.apply("a").width() + input.apply("b").width();
        return product.width() == full ? both : both + call("product", say(product));
      }
      default -> {
        Format x = input.apply("x");
        Format y = middle(kind, kind == Block.SQUARE_ROOT ? "root" : "y", false);
        return x.equals(y) ? call("word", say(x)) : call("formats", say(x) + ", " + say(y));
      }
    }
  }

  /** Refuses formats that were given and that no port of theirs is as wide as. */
  private void requireWidths(Block kind) {
    boolean solid = kind.operands().contains("origin_x");
    requireWidth("--word", word, true, solid ? List.of("origin_x") : kind.operands());
    requireWidth("--direction", direction, true, List.of("direction_x"));
    requireWidth("--result", result, false, List.of("product", "root", "y"));
  }

  private void requireWidth(String option, Format given, boolean isInput, List<String> operands) {
    List<DraftPorts.Carrier> carriers =
        operands.stream()
            .flatMap(operand -> ports.carrier(operand, isInput).stream())
            .distinct()
            .toList();
    if (given != null
        && !carriers.isEmpty()
        && carriers.stream().noneMatch(carrier -> carrier.width() == given.width())) {
      throw new ContractException(
          option
              + " has "
              + given.width()
              + " bits, "
              + carriers.stream().map(BenchDraft::words).collect(Collectors.joining(", "))
              + "; give a format as wide as the port");
    }
  }

  private static String words(DraftPorts.Carrier carrier) {
    Port port = carrier.port();
    String each = carrier.sharing() == Sharing.NONE ? "" : " for each axis";
    return "port " + port.name() + " " + carrier.width() + each + " (" + port.location() + ")";
  }

  private static String lines(Map<String, Format> formats) {
    return formats.entrySet().stream()
        .map(entry -> call(entry.getKey(), say(entry.getValue())))
        .collect(Collectors.joining());
  }

  private static String call(String method, String arguments) {
    return "        ." + method + "(" + arguments + ")\n";
  }

  private static String say(Format format) {
    return "Format."
        + (format.signed() ? "signed(" : "unsigned(")
        + format.integerBits()
        + ", "
        + format.fractionBits()
        + ")";
  }

  private static Format asSigned(Format format) {
    return new Format(true, format.width(), format.fractionBits());
  }

  /** A format as wide as the port: as given, or with the point in the middle. */
  private Format middle(Block kind, String operand, boolean isInput) {
    DraftPorts.Carrier carrier =
        ports
            .carrier(operand, isInput)
            .orElseThrow(() -> refusal().ofOperand(operand, kind.option(), kind.bench));
    Format wanted = !isInput && result != null ? result : word;
    if (wanted != null && wanted.width() == carrier.width()) {
      return wanted;
    }
    return new Format(carrier.port().signed(), carrier.width(), carrier.width() / 2);
  }
}
