package dev.plumbline.samples.chip;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;

import dev.plumbline.cosim.CompiledDesign;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** The picture converter against figures from outside and the definitions of its layouts. */
class PictureConverterTest {
  private static final CompiledDesign MODEL = ChipBlock.model("picture_converter", "XW=9", "YW=9");

  /** B. E. Bayer, ICC 1973; the first rows as published. */
  @Test
  @DisplayName("G1, G2: cells light in the order of Bayer's matrix, row first, each once")
  void ditherIsBayers() {
    assertArrayEquals(new int[] {0, 8, 2, 10}, ConverterChecks.bayer(4)[0]);
    assertArrayEquals(new int[] {12, 4, 14, 6}, ConverterChecks.bayer(4)[1]);
    assertArrayEquals(new int[] {0, 32, 8, 40, 2, 34, 10, 42}, ConverterChecks.bayer(8)[0]);
    ConverterChecks.ditherIsBayers(MODEL, 1);
  }

  @Test
  @DisplayName("G5: nearest levels of 3 and 2 bits have mean square errors 110.27 and 599.65")
  void withoutDitherLevelsAreNearest() {
    ConverterChecks.withoutDitherLevelsAreNearest(MODEL, 2);
  }

  /** Bit replication; the web-safe cube. */
  @Test
  @DisplayName("G4: a palette's own colours give its codes")
  void paletteColoursAreKept() {
    ConverterChecks.paletteColoursAreKept(MODEL, 3);
  }

  /** Warren, Hacker's Delight, 7-3; words of an 18 x 2 picture by netpbm's packer. */
  @Test
  @DisplayName("G7, G9: published planes of eight pixels and of a picture of 18 x 2")
  void planesAreThePublishedOnes() {
    ConverterChecks.planesAreThePublishedOnes(MODEL, 4);
  }

  /** J. Morrison, "ILBM" Interleaved Bitmap, Electronic Arts 1986, appendix B. */
  @Test
  @DisplayName("G8: 320 x 200 pixels are 8,000 bytes a plane")
  void rowsAreAsLongAsTheStandardSays() {
    ConverterChecks.rowsAreAsLongAsTheStandardSays(MODEL, 5);
  }

  @Test
  void everyPixelComesBack() {
    ConverterChecks.everyPixelComesBack(MODEL, 40, 6, ChipBlock.SEED);
  }

  @Test
  @Tag("thorough")
  void everyPixelComesBackAtTheEndsOfItsParameters() {
    ConverterChecks.everyPixelComesBack(
        ChipBlock.model("picture_converter", "XW=5", "YW=3"), 8, 60, ChipBlock.SEED);
    ConverterChecks.everyPixelComesBack(
        ChipBlock.model("picture_converter", "XW=12", "YW=12"), 300, 10, ChipBlock.SEED);
  }
}
