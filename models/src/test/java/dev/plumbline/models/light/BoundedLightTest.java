package dev.plumbline.models.light;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.picture.Picture;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.SceneFormats;
import java.io.IOException;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Bits and mathematics lie within the bounds, which are narrow enough to see faults. */
class BoundedLightTest {
  private static final int WIDTH = 80;
  private static final int HEIGHT = 50;

  @Test
  void bitsAndMathematicsOfASmallFrameLieWithin() throws IOException {
    Program program = FrameTest.scene("rings", FrameTest.FORMATS);
    requireWithin(program, FrameTest.lighting(FrameTest.FORMATS, 32, 20), 32, 20);
  }

  /** The verdicts of bits and of reals; gives the open pixels. */
  private static int requireWithin(Program program, Lighting lighting, int width, int height) {
    BoundedFrame bounds = BoundedLight.of(program, lighting).frame(width, height);
    Picture exact = ExactLight.of(program, lighting, 4).frame(width, height).picture();
    Picture ideal = IdealLight.of(program, lighting).frame(width, height).picture();
    assertEquals(0, bounds.judge(exact).wrong(), "bits: " + bounds.judge(exact));
    if (!lighting.isStepped()) { // solids take directions to be of unit length
      assertEquals(0, bounds.judge(ideal).wrong(), "reals: " + bounds.judge(ideal));
    }
    return bounds.openPixels();
  }

  @ParameterizedTest
  @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12})
  @Tag("thorough")
  void anyFormatsCamerasAndLampsLieWithin(long seed) throws IOException {
    Random random = new Random(seed);
    int whole = 7 + random.nextInt(10);
    int fraction = 8 + random.nextInt(32 - whole - 8 + 1);
    int places = 8 + random.nextInt(Math.min(fraction, 16) + 1);
    SceneFormats formats =
        SceneFormats.of(Format.signed(whole, fraction), Format.signed(2, places));
    String scene = List.of("planets", "rings", "frame").get(random.nextInt(3));
    Program program = FrameTest.scene(scene, formats);
    double turn = 2 * Math.PI * random.nextDouble();
    double far = 12 + 14 * random.nextDouble();
    double[] eye = {far * Math.cos(turn), far * Math.sin(turn), 2 + 12 * random.nextDouble()};
    double[] lamp = {random.nextGaussian(), random.nextGaussian(), Math.abs(random.nextGaussian())};
    Camera camera = Camera.looking(formats.word(), eye, new double[3], 0.8, 30, 20);
    Lighting shown = FrameTest.lighting(formats, 30, 20);
    Lighting lighting =
        Lighting.of(formats, camera, lamp)
            .withBackground(shown.background())
            .withMaterials(IntStream.range(0, 8).mapToObj(shown::material).toList())
            .withAmbient(random.nextInt(257))
            .withEpsilon(1L << Math.max(0, fraction - 8 + random.nextInt(6)));
    lighting = random.nextInt(4) == 0 ? lighting.withStepped() : lighting;
    requireWithin(program, lighting, 30, 20);
  }

  @ParameterizedTest
  @ValueSource(strings = {"planets", "rings", "frame"})
  @Tag("thorough")
  void bitsAndMathematicsLieWithin(String name) throws IOException {
    for (SceneFormats formats :
        List.of(
            FrameTest.FORMATS,
            SceneFormats.of(Format.signed(18, 14), Format.signed(2, 14)),
            SceneFormats.of(Format.signed(12, 20), Format.signed(2, 20)))) {
      Program program = FrameTest.scene(name, formats);
      Lighting lighting = FrameTest.lighting(formats, WIDTH, HEIGHT);
      BoundedFrame bounds = BoundedLight.of(program, lighting).frame(WIDTH, HEIGHT);
      Picture exact = ExactLight.of(program, lighting, 4).frame(WIDTH, HEIGHT).picture();
      Picture ideal = IdealLight.of(program, lighting).frame(WIDTH, HEIGHT).picture();
      assertTrue(meanWidth(bounds) < 2.5, "mean width of closed channels " + meanWidth(bounds));
      int most = WIDTH * HEIGHT / (formats.word().fractionBits() < 16 ? 5 : 30);
      assertTrue(bounds.openPixels() <= most, name + formats + " open " + bounds.openPixels());
      BoundedFrame.Verdict bits = bounds.judge(exact);
      BoundedFrame.Verdict reals = bounds.judge(ideal);
      assertEquals(0, bits.wrong(), name + formats + bits);
      assertEquals(0, reals.wrong(), name + formats + reals);
    }
  }

  /** How far the bounds of channels are apart, where no decision is open. */
  private static double meanWidth(BoundedFrame bounds) {
    long sum = 0;
    for (int y = 0; y < HEIGHT; y++) {
      for (int x = 0; x < WIDTH; x++) {
        int apart = bounds.isOpen(x, y) ? 0 : bounds.greatest().at(x, y) - bounds.least().at(x, y);
        sum += (apart >> 16) + (apart >> 8 & 0xFF) + (apart & 0xFF);
      }
    }
    return sum / 3.0 / (WIDTH * HEIGHT - bounds.openPixels());
  }

  @ParameterizedTest
  @ValueSource(strings = {"planets", "rings"})
  @Tag("thorough")
  void lowerLampAndOffsetInwardsAreSeen(String name) throws IOException {
    SceneFormats formats = FrameTest.FORMATS;
    Program program = FrameTest.scene(name, formats);
    Lighting lighting = FrameTest.lighting(formats, WIDTH, HEIGHT);
    BoundedFrame bounds = BoundedLight.of(program, lighting).frame(WIDTH, HEIGHT);
    Lighting lower = lighting.withLamp(lighting.lamp(0), lighting.lamp(1), lighting.lamp(2) - 2048);
    Picture wrong = ExactLight.of(program, lower, 4).frame(WIDTH, HEIGHT).picture();
    assertTrue(bounds.judge(wrong).wrong() > WIDTH * HEIGHT / 2, "a lamp three hundredths lower");
    Picture inside =
        ExactLight.of(program, lighting.withEpsilon(-lighting.epsilon()), 4)
            .frame(WIDTH, HEIGHT)
            .picture();
    assertTrue(bounds.judge(inside).wrong() > WIDTH * HEIGHT / 2, "offset into the surface");
  }
}
