package dev.plumbline.check;

import static dev.plumbline.verdict.MismatchGroup.LikelyKind.DECISION;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.EXCHANGED;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.GAP;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.NEIGHBOUR;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.OVERFLOW;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.RESET;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.ROUNDING;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.SIGN;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.STUCK_BIT;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.TIMING;
import static dev.plumbline.verdict.MismatchGroup.LikelyKind.WIDTH;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.evidence.CsvTable;
import dev.plumbline.faults.Fault;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.report.RunReport;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.verdict.Fact;
import dev.plumbline.verdict.MismatchGroup;
import dev.plumbline.verdict.MismatchGroup.LikelyKind;
import dev.plumbline.verdict.Verdict;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;

/**
 * Explanations of faults in RTL of other habits than the samples': temporaries in one block, lanes
 * by a generate loop, functions with loops, no register named as a step. Its results were seen
 * while the explanation was made, so this is no blind trial. Leaves a table in {@code
 * target/habits.csv}.
 */
@EnabledIfSystemProperty(named = "plumbline.long", matches = "true")
class HabitsTest {
  private static final Path FOLDER = Path.of("target", "habits").toAbsolutePath();
  private static final Pattern NAMED =
      Pattern.compile(
          "first wrong: (?<signal>\\S+)"
              + "|part at \\S+ \\((?<part>[^,]+),"
              + "|first to equal no step: (?<root>\\S+)"
              + "|different cases meet at (?<mixed>\\S+)");

  /**
   * A fault, and what is right to say of it.
   *
   * @param signals the last parts of the names of the signals that the statement drives, and of the
   *     registers right behind
   */
  private record Planted(
      String file,
      String name,
      String was,
      String is,
      Set<String> signals,
      Set<LikelyKind> kinds) {}

  private static final List<Planted> FAULTS =
      List.of(
          of("governor", "half dropped", "s + 34'sd2048", "s", "r y slow", ROUNDING),
          of("governor", "halves down", "34'sd2048", "34'sd2047", "r y slow", ROUNDING),
          of(
              "governor",
              "wraps above",
              "r = 22'sd32767;\n",
              "r = 22'($signed(r[15:0]));\n",
              "r y slow",
              OVERFLOW),
          of(
              "governor",
              "wraps below",
              "if (r < -22'sd32768) ",
              "if (1'b0) ",
              "r y slow",
              OVERFLOW),
          of("governor", "bias without sign", "34'(br)", "34'($unsigned(br))", "s r y slow", SIGN),
          of("governor", "slow at the limit", "r < 22'(lr)", "r <= 22'(lr)", "slow", DECISION),
          of(
              "governor",
              "bias of the next",
              "34'(br)",
              "34'(bias)",
              "s r y slow",
              NEIGHBOUR,
              TIMING),
          of(
              "governor",
              "limit for bias",
              "br   <= bias",
              "br   <= limit",
              "br s r y slow",
              EXCHANGED),
          of(
              "governor",
              "gain has a bit stuck",
              "kr   <= k",
              "kr   <= k | 16'sd4",
              "kr s r y slow",
              STUCK_BIT),
          of("governor", "reset ignored", "v    <= v_i && !rst", "v    <= v_i", "v v_o", RESET),
          of(
              "lever",
              "product narrow",
              "load <= $signed",
              "load <= 32'sh7fffffff & $signed",
              "load loads total",
              STUCK_BIT,
              WIDTH),
          of(
              "lever",
              "carry lost",
              "c  <= clip(magnitude(total))",
              "c  <= clip(magnitude(34'($signed(total[30:0]))))",
              "c size heavy",
              WIDTH),
          of(
              "lever",
              "magnitude of below 0",
              "t[33] ? -t : t",
              "t[33] ? t : t",
              "c size heavy",
              SIGN),
          of(
              "lever",
              "clip missing",
              "(m[33:8] > 26'h3ffff) ? 18'h3ffff :",
              "1'b0 ? 18'h3ffff :",
              "c size heavy",
              OVERFLOW),
          of("lever", "limit early", "l3 <= l2", "l3 <= l1", "l3 heavy", NEIGHBOUR, TIMING),
          of("lever", "heavy beyond the limit", "c >= l3", "c > l3", "heavy", DECISION),
          of("lever", "lane taken twice", "loads[63:32]", "loads[31:0]", "total c d", EXCHANGED),
          of(
              "lever",
              "lost after a bubble",
              "{v[1:0], v_i}",
              "{v[1:0], v_i && (v[0] || !v[1])}",
              "v v_o",
              GAP),
          of("pendulum", "y for x", "34'(x) * 34'(x)", "34'(y) * 34'(y)", "sum found", EXCHANGED),
          of(
              "pendulum",
              "exact root missed",
              "square <= 35'(n)",
              "square < 35'(n)",
              "found distance beyond left",
              DECISION,
              ROUNDING),
          of(
              "pendulum",
              "root a bit short",
              "i = 16; i",
              "i = 14; i",
              "found distance beyond left",
              WIDTH,
              STUCK_BIT),
          of(
              "pendulum",
              "left turned",
              "$signed({1'b0, r2}) - $signed({1'b0, found})",
              "$signed({1'b0, found}) - $signed({1'b0, r2})",
              "left",
              EXCHANGED,
              SIGN),
          of("pendulum", "at the reach", "found > r2", "found >= r2", "beyond", DECISION),
          of(
              "pendulum",
              "a cycle late",
              "v1       <= v_i",
              "v1       <= v_i & v1",
              "v1 v2",
              GAP,
              TIMING));

  private static Planted of(
      String file, String name, String was, String is, String signals, LikelyKind... kinds) {
    return new Planted(file, name, was, is, Set.of(signals.split(" ")), Set.of(kinds));
  }

  /** As the head of each file says. */
  static Contract contract(String file) {
    Datapath.Builder b = Datapath.named(file);
    Format word = Format.signed(8, 8);
    switch (file) {
      case "governor" -> {
        Value x = b.input("x", word);
        Value k = b.input("k", Format.signed(4, 12));
        Value bias = b.input("bias", word);
        Value limit = b.input("limit", word);
        Value sum = b.add("driven", b.multiply("turned", x, k), bias);
        Value y = b.convert("speed", sum, word, Rounding.HALF_CEILING, Overflow.SATURATE);
        b.output("y", y);
        b.output("slow", b.lessThan("too_slow", y, limit));
      }
      case "lever" -> {
        Value[] arms = new Value[3];
        Value[] forces = new Value[3];
        for (int i = 0; i < 3; i++) {
          arms[i] = b.input("arm_" + "abc".charAt(i), Format.signed(6, 10));
        }
        for (int i = 0; i < 3; i++) {
          forces[i] = b.input("force_" + "abc".charAt(i), Format.signed(10, 6));
        }
        Format shown = Format.unsigned(10, 8);
        Value limit = b.input("limit", shown);
        Value sum = b.multiply("turn_0", arms[0], forces[0]);
        for (int i = 1; i < 3; i++) {
          sum = b.add("sum_" + i, sum, b.multiply("turn_" + i, arms[i], forces[i]));
        }
        Value size =
            b.convert("shown", b.absolute("weight", sum), shown, Rounding.FLOOR, Overflow.SATURATE);
        b.output("down", b.lessThan("falls", sum, b.constant("nought", word, 0)));
        b.output("heavy", b.atMost("too_heavy", limit, size));
        b.output("size", size);
      }
      default -> {
        Value x = b.input("x", word);
        Value y = b.input("y", word);
        Format far = Format.unsigned(9, 8);
        Value reach = b.input("reach", far);
        Value square = b.add("square", b.multiply("x_square", x, x), b.multiply("y_square", y, y));
        Value root = b.squareRoot("full_length", square, Rounding.FLOOR);
        Value length = b.convert("length", root, far, Rounding.FLOOR, Overflow.SATURATE);
        b.output("distance", length);
        b.output("beyond", b.lessThan("too_far", reach, length));
        b.output("left", b.subtract("room", reach, length), Format.signed(10, 8));
      }
    }
    return Contract.of(Reference.exact(b.build()))
        .valid("v_i", "v_o")
        .reset("rst")
        .latency(file.equals("governor") ? 2 : 3)
        .build();
  }

  private static Bench.Builder bench(String file, RtlSource rtl) {
    BuildOptions brief = BuildOptions.defaults().withOptimisation(false);
    return Bench.of(CompiledDesign.of(rtl, brief)).contract(contract(file)).cases(8_192).seed(1);
  }

  private static RtlSource rtl(String file) {
    return RtlSource.of(Path.of("src/test/rtl/habits", file + ".v"));
  }

  private static String named(Verdict verdict) {
    for (Fact fact : verdict.findings().inside().facts()) {
      for (String line : fact.lines()) {
        Matcher named = NAMED.matcher(line);
        if (fact.label().equals("stage") && named.find()) {
          return Stream.of("signal", "part", "root", "mixed")
              .map(named::group)
              .filter(Objects::nonNull)
              .findFirst()
              .orElseThrow();
        }
      }
    }
    return "";
  }

  @Test
  void theRightOnesPass() {
    for (String file : List.of("governor", "lever", "pendulum")) {
      Verdict verdict = bench(file, rtl(file)).run();
      assertTrue(verdict.isPass(), verdict::facts);
    }
  }

  @Test
  void mostOfWhatIsSaidIsRight() {
    int stages = 0;
    int kinds = 0;
    List<String> timing = new ArrayList<>();
    CsvTable table =
        new CsvTable("fault", "stage named", "stage right", "likely", "kind right", "size");
    Pattern wanted = Pattern.compile(System.getProperty("plumbline.faults", ""));
    List<Planted> all =
        FAULTS.stream()
            .filter(fault -> wanted.matcher(fault.file() + " " + fault.name()).find())
            .toList();
    for (Planted planted : all) {
      String name = planted.file() + " " + planted.name();
      Path folder = FOLDER.resolve(name.replace(' ', '-'));
      Fault fault = Fault.of(name, planted.file() + ".v", planted.was(), planted.is());
      RunReport report =
          RunReport.open(FOLDER.resolveSibling("habits-reports"), name.replace(' ', '-'));
      Verdict verdict =
          bench(planted.file(), fault.plantedIn(rtl(planted.file()), folder))
              .recorder(report)
              .run();
      if (verdict.groups().isEmpty()) {
        System.out.println("----- ----- " + name + ": " + verdict.outcome());
        table.add(name, "", 0, "", 0, "");
        continue;
      }
      String named = named(verdict);
      MismatchGroup group = verdict.groups().get(0);
      boolean stage = planted.signals().contains(named.substring(named.lastIndexOf('.') + 1));
      boolean kind =
          group.likely().size() == 1 && planted.kinds().contains(group.likely().get(0).kind());
      if (group.likely().stream().anyMatch(one -> one.kind() == TIMING)
          && !planted.kinds().contains(TIMING)) {
        timing.add(name);
      }
      String likely = String.join(" | ", group.likely().stream().map(Object::toString).toList());
      stages += stage ? 1 : 0;
      kinds += kind ? 1 : 0;
      System.out.printf(
          Locale.ROOT,
          "%s %s %s %.1f s: %s; %s; stage %s of %s%n",
          kind ? "KIND " : "-----",
          stage ? "STAGE" : "-----",
          name,
          verdict.checked().seconds(),
          likely.isEmpty() ? "none; " + group.words() : likely,
          group.size(),
          named,
          planted.signals());
      table.add(name, named, stage ? 1 : 0, likely, kind ? 1 : 0, group.size());
    }
    table.writeTo(Path.of("target", "habits.csv").toAbsolutePath());
    System.out.println(
        all.size() + " faults: stage right " + stages + ", kind right and alone " + kinds);
    assertTrue(timing.isEmpty(), timing::toString);
    assertTrue(10 * stages >= 8 * all.size(), stages + " of " + all.size());
    assertTrue(10 * kinds >= 7 * all.size(), kinds + " of " + all.size());
  }
}
