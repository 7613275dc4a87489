package dev.plumbline.cases;

import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.solid.HalfSpace;
import dev.plumbline.models.solid.Sphere;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.stimulus.Stimulus;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;

/**
 * Rays in their usual mix reach what needs every bit of a sum or product: several operands at the
 * ends of their formats at once. In formats drawn over the range that the blocks allow.
 */
class EndsOfFormatsTest {
  private static final int FORMATS = 16;
  private static final int CASES = 12_000;

  private final RandomStream chance = RandomStream.of(101);
  private final Map<String, Integer> at = new HashMap<>();
  private long[][][] columns;

  private Format format(int least) {
    int width = least + chance.below(33 - least);
    return new Format(true, width, chance.below(width));
  }

  /** With two whole bits, as unit vectors have. */
  private Format direction() {
    return Format.signed(2, 8 + chance.below(23));
  }

  private void draw(RayCases rays, List<Operand> of, int seed) {
    of.forEach(operand -> at.put(operand.name(), of.indexOf(operand)));
    columns = new long[of.size()][1][CASES];
    Stimulus.Source source = rays.stimulus().open(of, seed, 0);
    source.fill(columns, 0, CASES);
  }

  private double code(String operand, int i) {
    return (double) columns[at.get(operand)][0][i];
  }

  private double dot(String left, String right, int i) {
    double sum = 0;
    for (String axis : List.of("_x", "_y", "_z")) {
      sum += code(left + axis, i) * code(right + axis, i);
    }
    return sum;
  }

  @Test
  void aSphereAsFarAndAsLargeAsCanBeIsHit() {
    for (int k = 0; k < FORMATS; k++) {
      Format word = format(12);
      Format direction = direction();
      draw(RayCases.atSpheres(word, direction), Sphere.of(word, direction).datapath().inputs(), k);
      double most = 0;
      for (int i = 0; i < CASES; i++) {
        double along = dot("centre", "direction", i) - dot("origin", "direction", i);
        double length = Math.sqrt(dot("direction", "direction", i));
        boolean unit = Math.abs(length * direction.lsbs() - 1) < 0.01;
        if (unit) {
          most = Math.max(most, along * direction.lsbs() + code("radius", i));
        }
      }
      // Three offsets of a word's whole range, of which the diagonal is sqrt(3), and half a range.
      double range = Math.scalb(1.0, word.width());
      assertTrue(most > 0.99 * (Math.sqrt(3) + 0.5) * range, word + " " + direction + " " + most);
    }
  }

  @Test
  void aPlaneAsFarAsCanBeIsNearlyParallel() {
    for (int k = 0; k < FORMATS; k++) {
      Format word = format(12);
      Format direction = direction();
      draw(
          RayCases.atPlanes(word, direction), HalfSpace.of(word, direction).datapath().inputs(), k);
      double most = 0;
      for (int i = 0; i < CASES; i++) {
        double height = code("level", i) - dot("normal", "origin", i) * direction.lsbs();
        double slope = Math.abs(dot("normal", "direction", i)) * direction.lsbs();
        if (slope > 0 && slope < 8) { // LSB of the direction
          most = Math.max(most, Math.abs(height));
        }
      }
      // A level of half a range and three products of as much and a normal of -2.
      double range = Math.scalb(1.0, word.width());
      assertTrue(most > 0.99 * 3.5 * range, word + " " + direction + " " + most);
    }
  }
}
