package dev.plumbline.models.light;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.picture.PictureDifference;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.scene.Scene;
import java.awt.image.BufferedImage;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import javax.imageio.ImageIO;
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

  static void write(String name, dev.plumbline.models.picture.Picture picture) throws IOException {
    Files.createDirectories(FOLDER);
    BufferedImage image =
        new BufferedImage(picture.width(), picture.height(), BufferedImage.TYPE_INT_RGB);
    image.setRGB(0, 0, picture.width(), picture.height(), picture.colours(), 0, picture.width());
    ImageIO.write(image, "png", FOLDER.resolve(name + ".png").toFile());
  }

  @ParameterizedTest
  @ValueSource(strings = {"planets", "rings", "frame"})
  void bitsAreNearTheMathematics(String name) throws IOException {
    int width = Integer.getInteger("plumbline.width", 80);
    int height = width * 5 / 8;
    Program program = scene(name, FORMATS);
    Lighting lighting = lighting(FORMATS, width, height);
    long t0 = System.nanoTime();
    Frame exact = ExactLight.of(program, lighting, 4).frame(width, height);
    long t1 = System.nanoTime();
    Frame ideal = IdealLight.of(program, lighting).frame(width, height);
    long t2 = System.nanoTime();
    write(name + "-exact", exact.picture());
    write(name + "-ideal", ideal.picture());
    PictureDifference difference = ideal.picture().difference(exact.picture());
    System.out.println(
        name
            + " "
            + difference
            + " "
            + difference.psnr()
            + " "
            + exact.rays()
            + " "
            + ideal.rays()
            + " "
            + (t1 - t0) / 1e9
            + " "
            + (t2 - t1) / 1e9);
    assertEquals((long) width * height, exact.rays().primary());
    assertTrue(difference.psnr() > 30, difference.toString());
  }
}
