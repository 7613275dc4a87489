package dev.plumbline.models.solid;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.solid.GoodErrors.Unit;
import dev.plumbline.models.solid.OtherSphere.Fault;
import dev.plumbline.models.solid.OtherSphere.Order;
import dev.plumbline.models.solid.WidthCases.CaseKind;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Random;
import java.util.function.ToLongFunction;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** How wide bounds are beside what good hardware needs, in every kind of the page about widths. */
@Tag("thorough")
class GoodErrorsTest {
  private static final boolean LONG = Boolean.getBoolean("plumbline.long");
  private static final int CASES = LONG ? 400 : 40;
  private static final int UNITS = LONG ? 300 : 40;
  private static final long SEED = 20105;

  /** The most that a median may be. */
  private static final double MOST = 1.5;

  private static final List<String> DISTANCES = List.of("entry", "exit");
  private static final Format WORD = Format.signed(16, 16);
  private static final Format DIRECTION = Format.signed(2, 16);
  private static final Path PAGE = Path.of("BOUNDS.md");
  private static final Path FRESH = Path.of("target", "BOUNDS-ratios.md");
  private static final String BEGIN = "<!-- measured: GoodErrorsTest writes from here -->\n";
  private static final String END = "<!-- up to here -->\n";

  private final StringBuilder rows =
      new StringBuilder("| block | kind | entry | exit |\n|---|---|---:|---:|\n");

  private void measure(
      String block,
      Datapath datapath,
      List<Unit> units,
      Map<String, CaseKind> kinds,
      List<String> outputs) {
    Map<String, Map<String, Double>> medians =
        new GoodErrors(datapath, units).medians(kinds, outputs, CASES, SEED);
    assertTrue(medians.size() >= kinds.size() - 2, () -> block + ": " + medians);
    medians.forEach(
        (kind, ratios) -> {
          ratios.forEach(
              (output, ratio) ->
                  assertTrue(ratio <= MOST, block + ", " + kind + ", " + output + ": " + ratio));
          rows.append(String.format(Locale.ROOT, "| %s | %s |", block, kind));
          for (String output : DISTANCES) {
            Double ratio = ratios.get(output);
            rows.append(ratio == null ? "  |" : String.format(Locale.ROOT, " %.1f |", ratio));
          }
          rows.append('\n');
        });
  }

  /** Chance that leans: a share of the draws comes out as it is told. */
  private static final class Leaning extends Random {
    private static final long serialVersionUID = 1;

    private final double share;
    private final int choice;

    Leaning(long seed, double share, int choice) {
      super(seed);
      this.share = share;
      this.choice = choice;
    }

    @Override
    public int nextInt(int bound) {
      return nextDouble() < share ? choice % bound : super.nextInt(bound);
    }
  }

  /** Leans towards each rounding, not at all to always. */
  private static Random leaning(int unit, Random random) {
    return new Leaning(random.nextLong(), unit % 4 / 3.0, random.nextInt(3));
  }

  private void spheres(Sphere.Formula formula) {
    Map<String, CaseKind> kinds = WidthKinds.sphere();
    if (formula == Sphere.Formula.ANY) { // from afar it is that of LENGTH, which is below
      kinds.keySet().removeIf(kind -> kind.endsWith("away"));
    }
    Random random = new Random(SEED);
    List<Unit> units = new ArrayList<>();
    for (Order order : Order.values()) {
      if (formula == Sphere.Formula.ANY || order.declared == formula) {
        WorstRoundings<OtherSphere> worst =
            new WorstRoundings<>(
                way -> new OtherSphere(WORD, DIRECTION, WORD, order, Fault.NONE, way), random);
        units.add(outermost(worst, sphere -> -sphere.entry));
        units.add(outermost(worst, sphere -> sphere.entry));
        units.add(outermost(worst, sphere -> -sphere.exit));
        units.add(outermost(worst, sphere -> sphere.exit));
      }
    }
    measure(
        "sphere, " + formula,
        Sphere.of(WORD, DIRECTION).withFormula(formula).budgeted(),
        units,
        kinds,
        DISTANCES);
  }

  /** One whose every rounding takes a distance as far as it may go, where it is hit. */
  private static Unit outermost(
      WorstRoundings<OtherSphere> worst, ToLongFunction<OtherSphere> distance) {
    return (columns, i) -> {
      OtherSphere sphere =
          worst.largest(
              tried -> {
                tried.compute(columns, i);
                return tried.hit ? distance.applyAsLong(tried) : Long.MIN_VALUE;
              });
      return sphere.hit ? Map.of("entry", sphere.entry, "exit", sphere.exit) : Map.of();
    };
  }

  private void box(boolean inverses, boolean solid) {
    SlabFormats formats = new SlabFormats(WORD, inverses ? WORD : DIRECTION, WORD, inverses);
    Random random = new Random(SEED);
    Stream<SlabHardware> byChance =
        Stream.generate(
                () ->
                    new SlabHardware(
                        formats, solid, 2, BoxSlab.OnFace.INSIDE, SlabHardware.Fault.NONE, random))
            .limit(2L * UNITS);
    List<SlabHardware> outermost = SlabHardware.outermost(formats, solid, 2, BoxSlab.OnFace.INSIDE);
    List<Unit> units =
        Stream.concat(byChance, outermost.stream()).<Unit>map(box -> box::run).toList();
    measure(
        (solid ? "solid box by " : "cull box by ") + (inverses ? "inverse" : "direction"),
        solid ? formats.solid() : formats.culling(2, BoxSlab.OnFace.INSIDE),
        units,
        WidthKinds.box(),
        DISTANCES);
  }

  private void halfSpace() {
    Random random = new Random(SEED);
    List<Unit> units = new ArrayList<>();
    for (int unit = 0; unit < UNITS; unit++) {
      OtherPlane plane = OtherPlane.any(leaning(unit, random), WORD);
      units.add(
          (columns, i) -> {
            plane.run(columns, i, DIRECTION);
            return plane.outputs.get("hit") == 1 ? plane.outputs : Map.of();
          });
    }
    measure(
        "half-space",
        HalfSpace.of(WORD, DIRECTION).budgeted(),
        units,
        WidthKinds.plane(),
        List.of("entry"));
  }

  @Test
  void boundsAreNotMuchWiderThanGoodErrors() throws IOException {
    for (boolean inverses : new boolean[] {false, true}) {
      box(inverses, false);
      box(inverses, true);
    }
    halfSpace();
    for (Sphere.Formula formula : Sphere.Formula.values()) {
      spheres(formula);
    }
    if (!LONG) {
      thePageSaysSo();
    }
  }

  private void thePageSaysSo() throws IOException {
    String page = Files.readString(PAGE);
    int from = page.indexOf(BEGIN) + BEGIN.length();
    int to = page.indexOf(END);
    assertTrue(from >= BEGIN.length() && to >= from, PAGE + " has lost its two marks");
    String fresh = page.substring(0, from) + rows + page.substring(to);
    Files.writeString(FRESH, fresh);
    assertEquals(
        page, fresh, "the ratios changed; if that is meant, copy " + FRESH + " over " + PAGE);
  }
}
