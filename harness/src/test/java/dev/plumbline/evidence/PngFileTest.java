package dev.plumbline.evidence;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.picture.Picture;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.util.Random;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Test;

/** Pictures come back from an independent reader, that of the JDK. */
class PngFileTest {
  @Test
  void anyPictureIsReadBack() throws IOException {
    Random random = new Random(20261129);
    for (int round = 0; round < 120; round++) {
      int width = (int) Math.round(Math.pow(700, random.nextDouble()));
      int height = (int) Math.round(Math.pow(60, random.nextDouble()));
      int lively = 1 + random.nextInt(300);
      Picture picture = Picture.of(width, height);
      int colour = random.nextInt(1 << 24);
      for (int i = 0; i < width * height; i++) {
        colour = random.nextInt(lively) == 0 ? random.nextInt(1 << 24) : colour;
        picture.set(i % width, i / width, colour);
      }
      BufferedImage read = ImageIO.read(new ByteArrayInputStream(PngFile.of(picture)));
      assertEquals(width, read.getWidth());
      int[] colours = read.getRGB(0, 0, width, height, null, 0, width);
      for (int i = 0; i < colours.length; i++) {
        colours[i] &= 0xFFFFFF;
      }
      assertArrayEquals(picture.colours(), colours);
    }
  }

  @Test
  void flatPicturesAreSmall() {
    int rows = 200; // of four runs each, some 13 bits a run
    assertTrue(PngFile.of(Picture.of(320, rows)).length < 14 * rows);
  }
}
