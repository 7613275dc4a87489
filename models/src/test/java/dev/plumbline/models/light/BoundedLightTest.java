package dev.plumbline.models.light;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.picture.Picture;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.SceneFormats;
import java.io.IOException;
import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Bits and mathematics lie within the bounds, which are narrow enough to see faults. */
class BoundedLightTest {
  private static final int WIDTH = 80;
  private static final int HEIGHT = 50;

  @ParameterizedTest
  @ValueSource(strings = {"planets", "rings", "frame"})
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
      FrameTest.write(name + "-open", bounds.marked(exact, 0xFF00FF));
      int most = formats.word().fractionBits() < 16 ? WIDTH * HEIGHT / 4 : WIDTH * HEIGHT / 25;
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
