package dev.plumbline.samples.chip;

import dev.plumbline.blocks.PictureBench;
import dev.plumbline.check.Bench;
import dev.plumbline.models.picture.DitherMatrix;
import dev.plumbline.models.picture.Palette;
import dev.plumbline.models.picture.PlaneLayout;
import dev.plumbline.models.picture.Quantiser;
import java.io.OutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The picture converter against the model of pictures, bit for bit, with stalls and gaps. */
class PictureConverterBenchTest {
  /** Words wait for the picture before. */
  private static final int LONGEST = 20_000;

  private static void check(
      int width, int height, boolean sixLevels, boolean dither, boolean tiles, long cases) {
    Quantiser quantiser =
        Quantiser.of(sixLevels ? Palette.levels(6, 6, 6) : Palette.levels(8, 8, 4));
    PictureBench.of(
            Bench.of(ChipBlock.inBench("picture_by_pixel", "XW=7", "YW=6")).seed(ChipBlock.SEED))
        .size(width, height)
        .quantiser(dither ? quantiser.withDither(DitherMatrix.bayer(3)) : quantiser)
        .layout(tiles ? PlaneLayout.tiles(8, 8, 16) : PlaneLayout.rows(8, 16))
        .port("x", "pixel_x")
        .port("y", "pixel_y")
        .port("colour", "pixel_colour")
        .port("last", "pixel_last")
        .port("word", "out_word")
        .port("end", "out_end")
        .hold("width_less_1", width - 1)
        .hold("height_less_1", height - 1)
        .hold("palette", sixLevels ? 1 : 0)
        .hold("dither", dither ? 1 : 0)
        .hold("layout", tiles ? 1 : 0)
        .valid("pixel_valid", "out_valid")
        .ready("pixel_ready", "out_ready")
        .latencyBetween(1, LONGEST)
        .cases(cases)
        .printTo(new PrintStream(OutputStream.nullOutputStream(), true, StandardCharsets.UTF_8))
        .check();
  }

  @Test
  void isTheModelOfPicturesBitForBit() {
    check(37, 19, false, true, false, 4_000);
  }

  @ParameterizedTest
  @CsvSource({
    "1, 1, false, true, false",
    "17, 9, false, false, true",
    "128, 64, false, true, true",
    "100, 3, true, true, false",
    "9, 33, true, true, true",
    "64, 40, true, false, false",
    "16, 8, false, true, true"
  })
  @Tag("thorough")
  void soItIsInEverySetting(
      int width, int height, boolean sixLevels, boolean dither, boolean tiles) {
    check(width, height, sixLevels, dither, tiles, 60_000);
  }
}
