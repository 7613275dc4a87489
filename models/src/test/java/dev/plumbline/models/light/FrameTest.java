package dev.plumbline.models.light;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.picture.DitherMatrix;
import dev.plumbline.models.picture.Palette;
import dev.plumbline.models.picture.Picture;
import dev.plumbline.models.picture.PictureDifference;
import dev.plumbline.models.picture.Quantiser;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.scene.Scene;
import java.awt.image.BufferedImage;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Random;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Whole frames of the sample scenes: bits against the mathematics, and pictures to look at. */
class FrameTest {
  static final SceneFormats FORMATS = SceneFormats.of(Format.signed(16, 16), Format.signed(2, 16));
  private static final Path FOLDER = Path.of("target", "frames");

  static Program scene(String name, SceneFormats formats) throws IOException {
    Path file = Path.of("..", "rtl-samples", "scenes", name + ".scene");
    return Scene.parse(Files.readString(file)).program(formats, new ProgramLimits(1024, 4, 256));
  }

  static Lighting lighting(SceneFormats formats, int width, int height) {
    Camera camera =
        Camera.looking(
            formats.word(), new double[] {9, -22, 13}, new double[] {0, 0, 0}, 1.0, width, height);
    return Lighting.of(formats, camera, new double[] {-3, -4, 7})
        .withBackground(0x182038)
        .withAmbient(56)
        .withMaterials(
            List.of(
                new Material(0xFFFFFF, 0),
                new Material(0xF0E0B0, 0),
                new Material(0x906040, 0),
                new Material(0xC8A048, 110),
                new Material(0x607078, 60),
                new Material(0xD09838, 0),
                new Material(0xE8E4D0, 0),
                new Material(0x50A080, 40)));
  }

  static void write(String name, Picture picture) throws IOException {
    Files.createDirectories(FOLDER);
    BufferedImage image =
        new BufferedImage(picture.width(), picture.height(), BufferedImage.TYPE_INT_RGB);
    image.setRGB(0, 0, picture.width(), picture.height(), picture.colours(), 0, picture.width());
    ImageIO.write(image, "png", FOLDER.resolve(name + ".png").toFile());
  }

  @ParameterizedTest
  @ValueSource(strings = {"planets", "rings", "frame"})
  void bitsAreNearTheMathematics(String name) throws IOException {
    Program program = scene(name, FORMATS);
    Lighting lighting = lighting(FORMATS, 48, 30);
    Frame exact = ExactLight.of(program, lighting, 4).frame(48, 30);
    Frame ideal = IdealLight.of(program, lighting).frame(48, 30);
    assertEquals(48 * 30, exact.rays().primary());
    assertEquals(exact.rays().primary(), ideal.rays().primary());
    PictureDifference difference = ideal.picture().difference(exact.picture());
    assertTrue(difference.psnr() > 35, difference + ": " + difference.psnr() + " dB");
  }

  @ParameterizedTest
  @ValueSource(strings = {"planets", "rings", "frame"})
  @Tag("thorough")
  void picturesToLookAt(String name) throws IOException {
    Program program = scene(name, FORMATS);
    Lighting lighting = lighting(FORMATS, 320, 200);
    Frame exact = ExactLight.of(program, lighting, 4).frame(320, 200);
    Frame ideal = IdealLight.of(program, lighting).frame(320, 200);
    BoundedFrame bounds = BoundedLight.of(program, lighting).frame(320, 200);
    Palette palette = Palette.levels(8, 8, 4);
    Quantiser dither = Quantiser.of(palette).withDither(DitherMatrix.bayer(3));
    write(name + "-exact", exact.picture());
    write(name + "-ideal", ideal.picture());
    write(name + "-open", bounds.marked(exact.picture(), 0xFF00FF));
    write(name + "-palette", dither.convert(exact.picture()).colours(palette));
    PictureDifference difference = ideal.picture().difference(exact.picture());
    assertTrue(difference.psnr() > 45, difference + ": " + difference.psnr() + " dB");
    assertEquals(0, bounds.judge(exact.picture()).wrong());
    assertTrue(bounds.openPixels() < 320 * 200 / 20, bounds.openPixels() + " open pixels");
  }

  @Test
  void pixelsAreTheSameInAnyOrder() throws IOException {
    Program program = scene("rings", FORMATS);
    Lighting lighting = lighting(FORMATS, 40, 25);
    ExactLight light = ExactLight.of(program, lighting, 4);
    Frame frame = light.frame(40, 25);
    Random random = new Random(20261129);
    int[] x = random.ints(700, 0, 40).toArray();
    int[] y = random.ints(700, 0, 25).toArray();
    int[] colours = new int[700];
    light.run(x, y, 700, colours);
    for (int i = 0; i < 700; i++) {
      assertEquals(frame.picture().at(x[i], y[i]), colours[i]);
    }
    RayCounts sum = RayCounts.NONE;
    int[] one = new int[1];
    for (int i = 0; i < 1000; i++) {
      sum = sum.plus(light.run(new int[] {i % 40}, new int[] {i / 40}, 1, one));
    }
    assertEquals(frame.rays(), sum);
  }
}
