package dev.plumbline.blocks;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.params.provider.Arguments.arguments;

import dev.plumbline.cases.RayCases;
import dev.plumbline.check.Bench;
import dev.plumbline.contract.ContractException;
import dev.plumbline.faults.FaultyCopies;
import dev.plumbline.junit.DesignUnderTest;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.solid.BoxSlab;
import dev.plumbline.models.solid.Budget;
import dev.plumbline.models.solid.HalfSpace;
import dev.plumbline.models.solid.Sphere;
import dev.plumbline.verdict.Verdict;
import java.math.BigInteger;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.FieldSource;

/**
 * Boxes and spheres by other formulas than the samples', held to the mathematics and to every
 * coverage point.
 */
@Execution(ExecutionMode.CONCURRENT)
class SolidBenchesTest {
  private static final Format WORD = Format.signed(16, 16);
  private static final Format DIRECTION = Format.signed(2, 16);

  private static final long CASES = 10_000;

  static final List<Arguments> BOX_FAULTS =
      List.of(
          arguments("tout >= 0;", "tout >= 64'sh10000;"),
          arguments("nxy > nz", "nxy > ny"),
          arguments("(fxy < fz) ? fxy : fz", "fxy"),
          arguments("tin <= tout", "tin < tout"),
          arguments("near(box_lo_y, box_hi_y, ray_org_y", "near(box_lo_y, box_hi_y, ray_org_z"));

  static final List<Arguments> CONVENTIONS =
      List.of(
          arguments("r >= 0;", "1'b1;", ".negativeRadius(SQUARED)"),
          arguments("limit(enter);", "limit(enter > 0 ? enter : leave);", ".entry(POSITIVE)"),
          arguments("limit(enter);", "limit(enter >= 0 ? enter : leave);", ".entry(NOT_NEGATIVE)"));

  static final List<Arguments> NO_CONVENTIONS =
      List.of(
          arguments("b - root", "b - root - 6"),
          arguments(
              "hit         <= real_sphere", "hit         <= (disc[30] ? 1'b1 : real_sphere)"));

  static final List<Arguments> SPHERE_FAULTS =
      List.of(
          arguments("r >= 0;", "1'b1;"),
          arguments("disc >= 0 &&", "disc >= 84'sh40000000 &&"),
          arguments("b - root", "b - root - 6"),
          arguments("&& leave >= 0", "&& 1"));

  static final List<Arguments> PLANE_FAULTS =
      List.of(
          arguments("height >= 0", "height > 0"),
          arguments("&& leave >= 0", "&& 1"),
          arguments("&& leave >= 0", "&& leave > 0"),
          arguments("quotient - 1 : quotient", "quotient - 12 : quotient"),
          arguments("(is_inside ? Top : Bottom)", "Top"));

  /** A box that is empty where its faces are crossed. */
  private static final List<String> UNCROSSED =
      List.of(
          "tin <= tout && tout >= 0;",
          "tin <= tout && tout >= 0 && box_lo_x <= box_hi_x && box_lo_y <= box_hi_y"
              + " && box_lo_z <= box_hi_z;");

  private static final List<String> LEFT_AT_ORIGIN = List.of("tout >= 0;", "tout > 0;");

  private static final List<String> SIX_OFF = List.of("b - root", "b - root - 6");
  private static final List<String> NO_EXIT_AT_ORIGIN = List.of("&& leave >= 0", "&& leave > 0");
  private static final List<String> EXIT_ZERO_WHERE_MISSED =
      List.of(
          "t1          <= limit(leave);",
          "t1 <= real_sphere && disc >= 0 && leave >= 0 ? limit(leave) : 0;");

  private static final List<String> TWO_CONVENTIONS =
      List.of(
          "r >= 0;\n        hit         <= real_sphere && disc >= 0 && leave >= 0;\n"
              + "        t0          <= limit(enter);",
          "1;\n        hit         <= real_sphere && disc >= 0 && leave >= 0;\n"
              + "        t0          <= limit(enter > 0 ? enter : leave);");

  private static final FaultyCopies BARS =
      copies("frame_bar.v", List.of(UNCROSSED, LEFT_AT_ORIGIN), BOX_FAULTS);
  private static final FaultyCopies PLANETS = copies("planet.v", List.of(), SPHERE_FAULTS);

  /** Apart, since only the thorough tests need them. */
  private static final FaultyCopies CONVENTIONAL =
      copies(
          "planet.v",
          List.of(SIX_OFF, NO_EXIT_AT_ORIGIN, EXIT_ZERO_WHERE_MISSED, TWO_CONVENTIONS),
          CONVENTIONS,
          NO_CONVENTIONS);

  private static final FaultyCopies TABLES = copies("table_top.v", List.of(), PLANE_FAULTS);

  @SafeVarargs
  private static FaultyCopies copies(
      String file, List<List<String>> single, List<Arguments>... lists) {
    FaultyCopies copies = new FaultyCopies(Path.of("src/test/rtl/foreign", file));
    single.forEach(copies::add);
    for (List<Arguments> list : lists) {
      list.forEach(fault -> copies.add((String) fault.get()[0], (String) fault.get()[1]));
    }
    return copies;
  }

  @TempDir private Path folder;

  private final Printed printed = new Printed();

  private BoxBench box(Bench.Builder bench) {
    return BoxBench.of(bench)
        .word(WORD)
        .direction(DIRECTION)
        .cases(CASES)
        .printTo(printed.stream());
  }

  private SphereBench sphere(Bench.Builder bench) {
    return SphereBench.of(bench)
        .word(WORD)
        .direction(DIRECTION)
        .cases(CASES)
        .printTo(printed.stream());
  }

  @Test
  @DesignUnderTest(sources = "src/test/rtl/foreign/frame_bar.v", top = "frame_bar")
  void boxByDivisionPassesAndReachesEveryCoveragePoint(Bench.Builder bench) {
    Verdict verdict = box(bench).check();

    assertEquals(CASES, verdict.cases());
    String text = printed.text();
    assertTrue(text.contains("\n origin_x ray_org_x s16.16\n"), text);
    assertTrue(text.contains("\n entry o_tnear s16.16\n exit - s16.16, unchecked\n"), text);
  }

  @ParameterizedTest(name = "{1}")
  @FieldSource("BOX_FAULTS")
  @Tag("thorough")
  void faultsOfABoxAreMismatches(String was, String is) {
    Verdict verdict = box(BARS.bench(List.of(was, is))).run();

    assertTrue(verdict.first().isPresent(), verdict::facts);
  }

  @Test
  @DesignUnderTest(sources = "src/test/rtl/foreign/planet.v", top = "planet")
  void sphereByTheQuadraticPassesAndReachesEveryCoveragePoint(Bench.Builder bench) {
    sphere(bench).check();

    String text = printed.text();
    assertTrue(text.contains("\n centre_z cz s16.16\n radius r s16.16\n"), text);
    assertTrue(text.contains("\n entry t0 s16.16\n exit t1 s16.16\n"), text);
    assertTrue(text.contains("\n latency 2, measured"), text);
    assertTrue(
        text.matches("(?s).*\n all 99\\d\\d cases of a trial fit formula SQUARES: .*"), text);
    assertTrue(text.contains("; declare it with .formula(SQUARES)\n"), text);
  }

  @Test
  @Tag("thorough")
  void aFormulaIsOnlyNamedWhereItIsOpenAndFits() {
    sphere(Bench.of(Foreign.model("planet.v"))).formula(Sphere.Formula.SQUARES).run();
    assertFalse(printed.text().contains("trial"), printed.text());
    sphere(CONVENTIONAL.bench(SIX_OFF)).run();
    assertFalse(printed.text().contains("trial"), printed.text());
  }

  @Test
  @Tag("thorough")
  void aMeasuredFormulaSaysWhatItDecides() {
    MeasuredFormula measured =
        sphere(Bench.of(Foreign.model("planet.v"))).measureFormula(5_000).orElseThrow();
    assertEquals(Sphere.Formula.SQUARES, measured.formula());
    assertTrue(measured.cases() > 4_900, measured::toString);
    assertTrue(2 * measured.width() < measured.widthOfAny(), measured::toString);
    assertEquals("", printed.text());
  }

  @ParameterizedTest(name = "{2}")
  @FieldSource("CONVENTIONS")
  @Tag("thorough")
  void anotherConventionIsNamedWhereItExplainsEveryMismatch(
      String was, String is, String declared) {
    String facts = sphere(CONVENTIONAL.bench(List.of(was, is))).run().facts();

    assertTrue(
        facts.contains(
            " kept mismatches fit " + declared + ": held to that, nothing in this segment differs"),
        facts);
  }

  @Test
  @Tag("thorough")
  void twoConventionsAtOnceAreNamedTogether() {
    String facts = sphere(CONVENTIONAL.bench(TWO_CONVENTIONS)).run().facts();

    assertTrue(facts.contains(" fit .negativeRadius(SQUARED).entry(POSITIVE): held"), facts);
  }

  @Test
  @Tag("thorough")
  void aMarginIsNamedWhereItExplainsEveryMismatch() {
    String facts =
        BoxBench.of(
                Foreign.faulty(
                    "frame_bar.v",
                    folder,
                    "tin <= tout && tout >= 0",
                    "tin <= tout + 64'sd3 && tout + 64'sd3 >= 0"))
            .word(WORD)
            .direction(DIRECTION)
            .cases(100_000)
            .printTo(printed.stream())
            .run()
            .facts();
    String hint = facts.lines().filter(line -> line.contains("  hint ")).findFirst().orElse(facts);
    assertTrue(hint.contains(" .margin("), facts);
    assertTrue(hint.contains(".margin(3)"), facts);
    assertTrue(hint.contains("nothing in this segment differs"), facts);
  }

  @ParameterizedTest(name = "{1}")
  @FieldSource("NO_CONVENTIONS")
  @Tag("thorough")
  void noConventionIsNamedForAFault(String was, String is) {
    String facts = sphere(CONVENTIONAL.bench(List.of(was, is))).run().facts();

    assertFalse(facts.contains("hint"), facts);
  }

  @Test
  @Tag("thorough")
  void sphereByTheQuadraticIsNotTheSampleBitForBit() {
    assertFalse(sphere(Bench.of(Foreign.model("planet.v"))).exact().run().isPass());
  }

  @Test
  @Tag("thorough")
  void aDeclaredFormulaIsHeldTo() {
    Bench.Builder declared = Bench.of(Foreign.model("planet.v"));
    sphere(declared).formula(Sphere.Formula.SQUARES).check();

    Bench.Builder other = Bench.of(Foreign.model("planet.v"));
    assertTrue(
        sphere(other).formula(Sphere.Formula.PERPENDICULAR).run().first().isPresent(),
        "the quadratic is no perpendicular");
  }

  @ParameterizedTest(name = "{1}")
  @FieldSource("SPHERE_FAULTS")
  void faultsOfASphereAreMismatches(String was, String is) {
    Verdict verdict = sphere(PLANETS.bench(List.of(was, is))).run();

    assertTrue(verdict.first().isPresent(), verdict::facts);
  }

  /** Only good roots decide a distance of exactly 0: the coverage asks for it, a fault is seen. */
  @Test
  @Tag("thorough")
  void anExitAtTheOriginIsDecidedWhereRootsAreGood() {
    SphereBench good = sphere(Bench.of(Foreign.model("planet.v")));
    good.roots(Sphere.Roots.EXACT_AT_SQUARES).check();

    Verdict verdict =
        sphere(CONVENTIONAL.bench(NO_EXIT_AT_ORIGIN)).roots(Sphere.Roots.EXACT_AT_SQUARES).run();
    assertTrue(verdict.first().isPresent(), verdict::facts);
  }

  /** What a wide budget leaves open is not asked for: good hardware still passes. */
  @Test
  @Tag("thorough")
  void aBudgetWiderThanRoundingsAsksForNoPointThatItLeavesOpen() {
    Sphere sphere = Sphere.of(WORD, DIRECTION);
    Verdict wide =
        sphere(Bench.of(Foreign.model("planet.v")))
            .budget(sphere.budget().with("discriminant", 200).with("root", 9))
            .check();
    assertTrue(
        wide.checked().coverage().stream().noneMatch(point -> point.name().equals("tangent")));

    HalfSpace half = HalfSpace.of(WORD, DIRECTION);
    plane(Bench.of(Foreign.model("table_top.v")))
        .budget(half.budget(WORD).with("height", 9).with("slope", 9))
        .check();
  }

  /** A division gives a distance of exactly 0; a difference of two rounded products may not. */
  @Test
  @Tag("thorough")
  void aBoxLeftAtTheOriginIsDecidedWhereDistancesAreRoundedOnce() {
    Budget once = BoxSlab.of(WORD).budget(WORD).with("distance", 0);
    box(Bench.of(Foreign.model("frame_bar.v"))).budget(once).check();

    Verdict verdict = box(BARS.bench(LEFT_AT_ORIGIN)).budget(once).run();
    assertTrue(verdict.first().isPresent(), verdict::facts);
  }

  @Test
  @Tag("thorough")
  void whatADistanceIsWhereNothingIsHitCanBePromised() {
    Verdict garbage = sphere(Bench.of(Foreign.model("planet.v"))).otherwise("exit", 0).run();
    assertEquals(BigInteger.ZERO, garbage.first().orElseThrow().low());

    sphere(CONVENTIONAL.bench(EXIT_ZERO_WHERE_MISSED)).otherwise("exit", 0).check();

    ContractException refused =
        assertThrows(
            ContractException.class,
            () -> sphere(Bench.of(Foreign.model("planet.v"))).otherwise("hit", 0));
    assertTrue(
        refused
            .getMessage()
            .endsWith("outputs with a flag are [entry, exit, inside]. Name one of these."),
        refused.getMessage());
  }

  @Test
  @DesignUnderTest(sources = "src/test/rtl/foreign/table_top.v", top = "table_top")
  void planeByDivisionPassesAndReachesEveryCoveragePoint(Bench.Builder bench) {
    plane(bench).check();

    String text = printed.text();
    assertTrue(text.contains("\n level offset s16.16\n"), text);
    assertTrue(text.contains("\n leaving - u1.0, unchecked\n"), text);
  }

  private PlaneBench plane(Bench.Builder bench) {
    return PlaneBench.of(bench)
        .word(WORD)
        .direction(DIRECTION)
        .cases(CASES)
        .printTo(printed.stream());
  }

  @ParameterizedTest(name = "{1}")
  @FieldSource("PLANE_FAULTS")
  @Tag("thorough")
  void faultsOfAPlaneAreMismatches(String was, String is) {
    Verdict verdict = plane(TABLES.bench(List.of(was, is))).run();

    assertTrue(verdict.first().isPresent(), verdict::facts);
  }

  @Test
  @Tag("thorough")
  void aSolidBoxIsEmptyWhereItsFacesAreCrossed() {
    assertFalse(box(Bench.of(Foreign.model("frame_bar.v"))).solid().run().isPass());
    box(BARS.bench(UNCROSSED)).solid().check();
  }

  @Test
  @Tag("thorough")
  void casesThatMissACoveragePointAreNoPass() {
    Verdict verdict =
        box(Bench.of(Foreign.model("frame_bar.v")))
            .stimulus(
                RayCases.atBoxes(WORD, DIRECTION)
                    .weight(RayCases.Aim.GRAZE, 0)
                    .weight(RayCases.Aim.LATTICE, 0)
                    .weight(RayCases.Aim.DEGENERATE, 0)
                    .weight(RayCases.Aim.LIMITS, 0)
                    .stimulus())
            .cases(5000)
            .run();

    assertEquals(Verdict.Outcome.NOT_REACHED, verdict.outcome());
  }
}
