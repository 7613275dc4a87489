package dev.plumbline.models.solid;

import static dev.plumbline.models.solid.Sphere.Formula.LENGTH;
import static dev.plumbline.models.solid.Sphere.Formula.PERPENDICULAR;
import static dev.plumbline.models.solid.Sphere.Formula.SQUARES;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.solid.WidthCases.CaseKind;
import dev.plumbline.models.unit.Reciprocal;
import dev.plumbline.models.unit.SquareRoot;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/** The page about bound widths says what the bounds are. */
class BoundsPageTest {
  private static final Path PAGE = Path.of("BOUNDS.md");
  private static final Path FRESH = Path.of("target", "BOUNDS.md");
  private static final String BEGIN = "<!-- measured: BoundsPageTest writes from here -->\n";
  private static final String END = "<!-- to here -->\n";
  private static final String SETTLED = "0 % open";
  private static final List<String> DISTANCES = List.of("entry", "exit", "hit");
  private static final List<String> CROSSINGS = List.of("entry", "exit", "hit", "entry_normal_x");
  private static final int CASES = 400;
  private static final long SEED = 20105;

  private record Formats(Format word, Format direction) {
    Reciprocal ofDirection() {
      return Reciprocal.between(direction, word);
    }

    Box box() {
      return Box.of(word);
    }

    BoxSlab slab() {
      return BoxSlab.of(word);
    }

    Sphere sphere() {
      return Sphere.of(word, direction).withNormals(Reciprocal.between(word, Format.signed(2, 24)));
    }

    @Override
    public String toString() {
      return word + ", " + direction;
    }
  }

  private static final List<Formats> FORMATS =
      List.of(
          new Formats(Format.signed(16, 16), Format.signed(2, 16)),
          new Formats(Format.signed(18, 14), Format.signed(2, 14)),
          new Formats(Format.signed(12, 20), Format.signed(2, 16)),
          new Formats(Format.signed(16, 16), Format.signed(2, 24)));

  private final StringBuilder text = new StringBuilder();

  @Test
  void thePageIsWhatTheBoundsAre() throws IOException {
    String page = Files.readString(PAGE);
    int from = page.indexOf(BEGIN) + BEGIN.length();
    int to = page.indexOf(END);
    assertTrue(from >= BEGIN.length() && to >= from, PAGE + " has lost its two marks");
    blocks();
    String fresh = page.substring(0, from) + text + page.substring(to);
    Files.writeString(FRESH, fresh);
    assertEquals(
        page, fresh, "the widths changed; if that is meant, copy " + FRESH + " over " + PAGE);
  }

  private void blocks() {
    block("Reciprocal", f -> f.ofDirection().datapath(), List.of("y"), WidthKinds.reciprocal());
    block(
        "Square root", f -> SquareRoot.of(f.word()).datapath(), List.of("root"), WidthKinds.root());
    block(
        "Box as a cull volume, by direction",
        f -> f.slab().budgetedFromDirection(f.ofDirection(), f.box().budget(f.word())),
        DISTANCES,
        WidthKinds.box());
    block(
        "Box as a cull volume, by inverse",
        f -> f.slab().budgetedFromInverse(f.word(), f.box().budget(f.word())),
        DISTANCES,
        WidthKinds.box());
    block(
        "Box as a solid, by direction",
        f -> f.box().budgetedFromDirection(f.ofDirection(), f.box().budget(f.word())),
        DISTANCES,
        WidthKinds.box());
    block(
        "Box as a solid, by inverse",
        f -> f.box().budgetedFromInverse(f.word(), f.box().budget(f.word())),
        DISTANCES,
        WidthKinds.box());
    block(
        "Half-space",
        f -> HalfSpace.of(f.word(), f.direction()).budgeted(),
        List.of("entry", "hit"),
        WidthKinds.plane());
    block("Sphere, any formula", f -> f.sphere().budgeted(), CROSSINGS, WidthKinds.sphere());
    for (Sphere.Formula formula : List.of(PERPENDICULAR, SQUARES, LENGTH)) {
      block(
          "Sphere, formula declared: " + formula,
          f -> f.sphere().withFormula(formula).budgeted(),
          CROSSINGS,
          WidthKinds.sphere());
    }
  }

  private void block(
      String name,
      Function<Formats, Datapath> block,
      List<String> outputs,
      Map<String, CaseKind> kinds) {
    text.append("\n## ").append(name).append("\n\n| kind | output |");
    FORMATS.forEach(f -> text.append(' ').append(f).append(" |"));
    text.append("\n|---|---|").append("---:|".repeat(FORMATS.size())).append('\n');
    List<Measured> all =
        FORMATS.stream().map(f -> new Measured(block.apply(f), kinds.values())).toList();
    int from = 0;
    for (String kind : kinds.keySet()) {
      for (String output : outputs) {
        int first = from;
        List<String> cells = all.stream().map(m -> m.cell(output, first)).toList();
        if (!cells.stream().allMatch(SETTLED::equals)) {
          text.append("| ").append(kind).append(" | ").append(output).append(" | ");
          text.append(String.join(" | ", cells)).append(" |\n");
        }
      }
      from += CASES;
    }
  }

  /** One datapath in all kinds, one after the other. */
  private static final class Measured {
    private final List<String> outputs;
    private final Bounds bounds;

    Measured(Datapath datapath, Collection<CaseKind> kinds) {
      outputs = datapath.outputs().stream().map(Operand::name).toList();
      bounds = new Bounds(datapath, WidthCases.columns(datapath, kinds, CASES, SEED));
    }

    /** Median and worst from a case on; of a decision the share that is open. */
    String cell(String output, int from) {
      IntStream cases = IntStream.range(from, from + CASES);
      if (output.equals("hit")) {
        long open = cases.filter(i -> bounds.width("hit", i) == 1).count();
        return Math.round(100.0 * open / CASES) + " % open";
      }
      long[] widths =
          cases
              .filter(i -> !outputs.contains("hit") || bounds.high("hit", i) == 1)
              .mapToLong(i -> bounds.width(output, i))
              .sorted()
              .toArray();
      return widths.length == 0
          ? "never"
          : widths[widths.length / 2] + " / " + widths[widths.length - 1];
    }
  }
}
