package dev.plumbline.samples.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.light.Camera;
import dev.plumbline.models.light.Lighting;
import dev.plumbline.models.light.Material;
import dev.plumbline.models.picture.Picture;
import dev.plumbline.samples.SampleFrame;
import dev.plumbline.samples.SampleRtl;
import dev.plumbline.toolchain.BuildOptions;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.opentest4j.AssertionFailedError;

/** Frames of the whole chip against figures from outside; no model of light has a part in it. */
class FrameFiguresTest {
  private static final Format WORD = ChipCamera.FORMATS.word();
  private static final Material WHITE = new Material(0xFFFFFF, 0);
  private static final int SKY = 0x0000FF; // no grey, which lit white is
  private static final int BLACK = 0;

  /** Lengths from the eye to the ball, so that its disc is as good as seen from infinity. */
  private static final double FAR = 100;

  private static ChipCamera chip;

  @BeforeAll
  static void open() {
    chip =
        new ChipCamera(
            CompiledDesign.of(
                SampleFrame.rtl(SampleRtl.FOLDER, 2),
                BuildOptions.defaults().withOptimisation(false)));
  }

  @AfterAll
  static void close() {
    chip.close();
  }

  private static long[] codes(double... reals) {
    long[] codes = new long[reals.length];
    for (int i = 0; i < codes.length; i++) {
      codes[i] = Math.round(reals[i] / WORD.lsbs());
    }
    return codes;
  }

  private static Picture ball(double angle, int side) {
    chip.scene("piece ball take sphere at 0, 0, 0 radius 1 of 1 done", List.of(WHITE, WHITE));
    Camera camera =
        Camera.looking(WORD, new double[] {0, -FAR, 0}, new double[3], 2.1 / FAR, side, side);
    return chip.take(
        Lighting.of(ChipCamera.FORMATS, camera, new double[] {Math.sin(angle), -Math.cos(angle), 0})
            .withAmbient(0)
            .withBackground(SKY),
        side,
        side);
  }

  /** Over the pixels of a disc before the sky: how many are lit, and their mean light. */
  private static double[] litAndMean(Picture picture) {
    int disc = 0;
    int lit = 0;
    double sum = 0;
    for (int colour : picture.colours()) {
      disc += colour == SKY ? 0 : 1;
      lit += colour == SKY || colour == BLACK ? 0 : 1;
      sum += colour == SKY ? 0 : (colour & 0xFF) / 255.0;
    }
    return new double[] {(double) lit / disc, sum / disc};
  }

  private static void litPart(double angle, double part) {
    assertEquals(part, litAndMean(ball(angle, 40))[0], 0.015, Math.toDegrees(angle) + " degrees");
  }

  @Test
  @Tag("thorough")
  @DisplayName("E3: lit part of a disc in a frame: Moon .6786, Venus .64656, 3/4, 1/2, 1/4")
  void litPartOfADisc() {
    // J. Meeus, Astronomical Algorithms, example 48.a, p. 347; chapter 41.
    litPart(Math.toRadians(69.0756), .67856790);
    litPart(Math.acos(.29312), .64656);
    litPart(Math.PI / 3, .75);
    litPart(Math.PI / 2, .5);
    litPart(2 * Math.PI / 3, .25);
    assertThrows(AssertionFailedError.class, () -> litPart(Math.toRadians(64), .67856790));
  }

  @Test
  @Tag("thorough")
  @DisplayName("E2: mean light of a disc in a frame by the angle to the lamp")
  void meanOfADiscIsThePhaseLaw() {
    double[] degrees = {0, 30, 60, 90, 120};
    double[] means = {2 / 3.0, .587229, .405999, .212207, .072665};
    for (int k = 0; k < degrees.length; k++) {
      Picture picture = ball(Math.toRadians(degrees[k]), 40);
      assertEquals(means[k], litAndMean(picture)[1], 0.008, degrees[k] + " degrees");
    }
  }

  /** The area of what is dark on the table z = 0 in a square of 4 by 4 about a point. */
  private static double darkArea(String solid, double x, double y, int side) {
    chip.scene(
        "piece table take half-space facing 0, 0, 1 up to 0 of 1 done\n" + solid,
        List.of(WHITE, WHITE));
    double eye = 0.9; // below the solids, so that none is in the picture
    double step = 4 / (side * eye);
    double edge = step * (side - 1) / 2;
    Camera camera =
        Camera.of(
            WORD, codes(x, y, eye), codes(-edge, edge, -1), codes(step, 0, 0), codes(0, -step, 0));
    Picture picture =
        chip.take(
            Lighting.of(ChipCamera.FORMATS, camera, new double[] {1, 2, 2}).withAmbient(0),
            side,
            side);
    int dark = 0;
    for (int colour : picture.colours()) {
      dark += colour == BLACK ? 1 : 0;
    }
    return 16.0 * dark / (side * side);
  }

  private static void shadowOfABall(double radius) {
    String ball =
        String.format(Locale.ROOT, "piece ball take sphere at 0, 0, 3 radius %f of 1 done", radius);
    assertEquals(4.712389, darkArea(ball, -1.5, -3, 48), 0.06);
  }

  @Test
  @Tag("thorough")
  @DisplayName("E7: shadows in a frame: of a sphere pi/Lz = 4.712389, of a unit cube 2.5")
  void shadowsHaveTheirAreas() {
    shadowOfABall(1);
    assertThrows(AssertionFailedError.class, () -> shadowOfABall(1.02));
    String cube = "piece cube take box from -0.5, -0.5, 1 to 0.5, 0.5, 2 of 1 done";
    assertEquals(2.5, darkArea(cube, -0.75, -1.5, 48), 0.06);
  }

  /** Whether a ray parallel to the axis of a mirror of radius 8 sees a coin on the axis. */
  private static boolean seesCoin(double height, double coin) {
    return seesCoin(8, new double[] {8 * height, 0}, new double[] {0, 1}, new double[] {0, coin});
  }

  /** Whether a ray sees a coin in a mirror about the middle; points have x and z. */
  private static boolean seesCoin(double radius, double[] eye, double[] towards, double[] coin) {
    double thick = 0.004;
    double wide = 0.015;
    chip.scene(
        String.format(
            Locale.ROOT,
            "piece mirror take sphere at 0, 0, 0 radius %f of 1 done%n"
                + "piece coin take box from %f, -1, %f to %f, 1, %f of 2 done",
            radius,
            coin[0] - thick,
            coin[1] - wide,
            coin[0] + thick,
            coin[1] + wide),
        List.of(WHITE, new Material(BLACK, 255), WHITE));
    Camera camera =
        Camera.of(
            WORD,
            codes(eye[0], 0, eye[1]),
            codes(towards[0], 0, towards[1]),
            codes(0.01, 0, 0),
            codes(0, 0.01, 0));
    Lighting lighting =
        Lighting.of(ChipCamera.FORMATS, camera, new double[] {0, 0, 1}).withAmbient(256);
    return chip.take(lighting, 1, 1).at(0, 0) == 0xFFFFFF;
  }

  /** From a point of an object, a ray to each side of the mirror's middle: do both see the coin? */
  private static boolean bothSeeCoin(double[] object, double[] coin) {
    boolean both = true;
    for (double side : new double[] {0.25, -0.25}) {
      double length = Math.hypot(side - object[0], 16 - object[1]);
      double[] towards = {(side - object[0]) / length, (16 - object[1]) / length};
      both &= seesCoin(16, object, towards, coin);
    }
    return both;
  }

  @Test
  @Tag("thorough")
  @DisplayName("E6: a concave mirror, R 16, in frames of a pixel: 24 gives 12, -1/2, R gives R, -1")
  void concaveMirrorMakesTheKnownImage() {
    // Mirror equation; object and image are so far from the mirror, whose middle is at z = 16.
    double[][] cases = {{24, 12, -.5}, {16, 16, -1}};
    for (double[] one : cases) {
      double[] object = {0.25, 16 - one[0]};
      double x = one[2] * object[0];
      double z = 16 - one[1];
      assertTrue(bothSeeCoin(object, new double[] {x, z}), "image of " + one[0]);
      assertFalse(bothSeeCoin(object, new double[] {x, z + 0.8}), "nearer than " + one[1]);
      assertFalse(bothSeeCoin(object, new double[] {x, z - 0.8}), "farther than " + one[1]);
      assertFalse(bothSeeCoin(object, new double[] {x + 0.02, z}), "smaller than " + one[2]);
      assertFalse(bothSeeCoin(object, new double[] {x - 0.02, z}), "larger than " + one[2]);
    }
  }

  @Test
  @Tag("thorough")
  @DisplayName("E5: a concave mirror in frames of a pixel: 3/5 5/8, 5/13 13/24, 7/25 25/48")
  void concaveMirrorCrossesItsAxis() {
    double[][] cases = {{3 / 5.0, 5 / 8.0}, {5 / 13.0, 13 / 24.0}, {7 / 25.0, 25 / 48.0}};
    for (double[] one : cases) {
      double crossing = 8 * one[1];
      assertTrue(seesCoin(one[0], crossing), "at " + crossing);
      assertFalse(seesCoin(one[0], crossing - 0.04), "before " + crossing);
      assertFalse(seesCoin(one[0], crossing + 0.04), "behind " + crossing);
    }
  }
}
