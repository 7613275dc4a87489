package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cases.RayCases;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.rows.RowTier;
import dev.plumbline.stimulus.Stimulus;
import dev.plumbline.toolchain.RowBuild.Vectors;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** Machine code draws the rays that the loops draw. */
class RowDrawsTest {
  private static final int CASES = 1000;
  private static final Format WORD = Format.signed(16, 16);
  private static final Format DIRECTION = Format.signed(2, 16);

  private CountedPrograms compiler = new CountedPrograms(Vectors.values());

  @Test
  void raysByMachineCodeAreThoseOfTheLoops() {
    compiler = new CountedPrograms(Vectors.widest()); // one set compiles in half the time
    hold(WORD, DIRECTION, WORD);
    assertEquals(6 + 6 + 3 + 5, compiler.found(), "of four times six aims");
  }

  @Test
  @Tag("thorough")
  void raysInOtherFormatsAreThoseOfTheLoops() {
    hold(Format.signed(18, 14), Format.signed(2, 14), Format.signed(12, 20));
    hold(Format.signed(4, 4), Format.signed(2, 6), Format.signed(3, 5)); // many blanks
    hold(Format.signed(12, 20), Format.signed(2, 24), Format.signed(2, 30));
    hold(Format.signed(16, 32), Format.signed(2, 40), Format.signed(30, 32)); // long inverses
    assertTrue(compiler.found() >= 4 * 20, () -> compiler.found() + " programs");
  }

  private void hold(Format word, Format direction, Format inverse) {
    for (RayCases.Aim aim : RayCases.Aim.values()) {
      hold(
          only(aim, RayCases.atBoxesByInverse(word, inverse)),
          operands(
              word, "origin", inverse, "inverse", Format.bit(), "parallel", word, "min", "max"));
      hold(
          only(aim, RayCases.atBoxes(word, direction)),
          operands(word, "origin", direction, "direction", word, "min", "max"));
      hold(
          only(aim, RayCases.atSpheres(word, direction)),
          operands(word, "origin", direction, "direction", word, "centre", "radius"));
      hold(
          only(aim, RayCases.atPlanes(word, direction)),
          operands(word, "origin", direction, "direction", "normal", word, "level"));
    }
  }

  private static Stimulus only(RayCases.Aim aim, RayCases rays) {
    RayCases some = rays;
    for (RayCases.Aim each : RayCases.Aim.values()) {
      some = some.weight(each, each == aim ? 1 : 0);
    }
    return some.stimulus();
  }

  /** Vectors and numbers, each in the format before it. */
  private static List<Operand> operands(Object... of) {
    List<Operand> operands = new ArrayList<>();
    Format format = null;
    for (Object each : of) {
      if (each instanceof Format next) {
        format = next;
      } else if (each.equals("radius") || each.equals("level")) {
        operands.add(new Operand((String) each, format));
      } else {
        for (String axis : List.of("_x", "_y", "_z")) {
          operands.add(new Operand(each + axis, format));
        }
      }
    }
    return operands;
  }

  private void hold(Stimulus stimulus, List<Operand> operands) {
    Stimulus.Source loops = stimulus.open(operands, 5, 0);
    Stimulus.Source code = RowTier.asking(compiler, () -> stimulus.open(operands, 5, 0));
    long[][][] expected = new long[operands.size()][1][CASES];
    long[][][] drawn = new long[operands.size()][1][CASES];
    for (int begin = 0; begin < 2; begin++) {
      for (int block = 0; block < 3; block++) {
        loops.fill(expected, 0, CASES);
        code.fill(drawn, 0, CASES);
        for (int i = 0; i < drawn.length; i++) {
          assertArrayEquals(expected[i][0], drawn[i][0], operands + ": " + operands.get(i));
        }
      }
      assertTrue(loops.restart(9, 0) && code.restart(9, 0));
    }
  }
}
