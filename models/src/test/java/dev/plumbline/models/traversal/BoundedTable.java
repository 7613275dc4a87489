package dev.plumbline.models.traversal;

import static dev.plumbline.models.solid.Sphere.Formula.ANY;
import static dev.plumbline.models.solid.Sphere.Formula.LENGTH;
import static dev.plumbline.models.solid.Sphere.Formula.PERPENDICULAR;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.scene.Carousel;
import dev.plumbline.models.scene.Culling;
import dev.plumbline.models.scene.CullingTable;
import dev.plumbline.models.scene.Scene;
import dev.plumbline.models.solid.Sphere;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;

/** How open the bounded level leaves primary rays at carousels; {@link #main} prints a table. */
final class BoundedTable {
  private static final int RAYS = 2000;

  private BoundedTable() {}

  /** Prints shares of rays and widths of unambiguous hits in LSB. */
  public static void main(String[] arguments) {
    System.out.println(
        "| words, directions | formula | spheres | hits | unambiguous | open: which surface | or a"
            + " miss | places wide: median | of 90 % | us a ray |");
    for (Sphere.Formula formula : new Sphere.Formula[] {ANY, LENGTH, PERPENDICULAR}) {
      for (int fraction : new int[] {16, 14}) {
        SceneFormats formats =
            SceneFormats.of(Format.signed(32 - fraction, fraction), Format.signed(2, fraction));
        for (int generations = 0; generations < 5; generations++) {
          System.out.println(row(formats, formula, generations));
        }
      }
    }
  }

  private static String row(SceneFormats formats, Sphere.Formula formula, int generations) {
    Scene carousel = Carousel.of(generations);
    Program program = Culling.of(formats, 8).culled(carousel).program(formats, CullingTable.ROOMY);
    Rays rays = rescaled(CullingTable.towards(RAYS, 3), formats);
    SceneUnits any = SceneUnits.budgeted(formats);
    Sphere sphere = Sphere.of(formats.word(), formats.direction()).withFormula(formula);
    BoundedTraversal bounded =
        BoundedTraversal.of(
            new SceneUnits(formats, sphere.budgeted(), any.halfSpace(), any.box()), 2);
    double[] sums = new double[4];
    List<Long> widths = new ArrayList<>();
    bounded.run(program, rays, 0, RAYS, hits -> {});
    long begun = System.nanoTime();
    bounded.run(
        program,
        rays,
        0,
        RAYS,
        hits -> {
          boolean hit = hits.count() > 0;
          sums[0] += hit ? 1 : 0;
          sums[1] += hits.isUnambiguous() ? 1 : 0;
          sums[2] += hits.count() > 1 && !hits.isMissAdmissible() ? 1 : 0;
          sums[3] += hit && hits.isMissAdmissible() ? 1 : 0;
          if (hit && hits.isUnambiguous()) {
            widths.add(hits.greatest(0) - hits.least(0));
          }
        });
    double micros = (System.nanoTime() - begun) / 1e3 / RAYS;
    Collections.sort(widths);
    return String.format(
        Locale.ROOT,
        "| %s, %s | %s | %d | %.1f %% | %.2f %% | %.2f %% | %.2f %% | %d | %d | %.0f |",
        formats.word(),
        formats.direction(),
        formula.toString().toLowerCase(Locale.ROOT),
        carousel.items().size(),
        100 * sums[0] / RAYS,
        100 * sums[1] / RAYS,
        100 * sums[2] / RAYS,
        100 * sums[3] / RAYS,
        widths.get(widths.size() / 2),
        widths.get(widths.size() * 9 / 10),
        micros);
  }

  /** The same rays in other formats, with inverses of their own. */
  private static Rays rescaled(Rays rays, SceneFormats formats) {
    double factor = CullingTable.FORMATS.word().lsbs() / formats.word().lsbs();
    Rays scaled = Rays.of(formats, rays.capacity());
    for (int i = 0; i < rays.capacity(); i++) {
      long[] numbers = new long[6];
      int k = 0;
      for (String name : List.of("origin_", "direction_")) {
        for (String axis : List.of("x", "y", "z")) {
          numbers[k++] = Math.round(rays.column(name + axis)[i] * factor);
        }
      }
      scaled.nearest(
          i,
          16,
          new long[] {numbers[0], numbers[1], numbers[2]},
          new long[] {numbers[3], numbers[4], numbers[5]});
    }
    return scaled;
  }
}
