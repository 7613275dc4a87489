package dev.plumbline.models.picture;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Random;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Palettes and differences of pictures against published figures. */
class PaletteTest {
  private static final Palette BITS = Palette.levels(8, 8, 4);
  private static final Palette CUBE = Palette.levels(6, 6, 6);

  @Test
  @DisplayName("G4: 3-3-2 and 6 x 6 x 6: sizes, levels by bit replication, codes")
  void levelsAreThoseOfBitReplication() {
    assertEquals(256, BITS.size());
    assertEquals(216, CUBE.size());
    assertEquals(8, BITS.bits());
    int[] three = {0, 36, 73, 109, 146, 182, 219, 255};
    int[] two = {0, 85, 170, 255};
    for (int code = 0; code < 256; code++) {
      int r = code >> 5;
      int g = code >> 2 & 7;
      int b = code & 3;
      assertEquals(three[r] << 16 | three[g] << 8 | two[b], BITS.colour(code));
      assertEquals(r << 5 | r << 2 | r >> 1, BITS.colour(code) >> 16, "by replication");
    }
    for (int code = 0; code < 216; code++) {
      int colour = 51 * (code / 36) << 16 | 51 * (code / 6 % 6) << 8 | 51 * (code % 6);
      assertEquals(colour, CUBE.colour(code));
      assertEquals(code, CUBE.nearest(colour));
    }
  }

  /** Mean square of one channel's error over all its levels. */
  private static double meanSquare(Quantiser quantiser, int shift) {
    double sum = 0;
    for (int v = 0; v < 256; v++) {
      int code = quantiser.code(0, 0, v << shift);
      int d = v - (quantiser.palette().colour(code) >> shift & 0xFF);
      sum += d * d;
    }
    return sum / 256;
  }

  @Test
  @DisplayName("G5: mean squares and PSNR of 3 bits, 2 bits and 3-3-2, truncated and nearest")
  void meanSquaresOfAllLevels() {
    Quantiser nearest = Quantiser.of(BITS);
    Quantiser truncated = Quantiser.truncating(BITS);
    assertEquals(110.2734375, meanSquare(nearest, 16));
    assertEquals(110.2734375, meanSquare(nearest, 8));
    assertEquals(599.6484375, meanSquare(nearest, 0));
    assertEquals(190.5, meanSquare(truncated, 16));
    assertEquals(892.5, meanSquare(truncated, 0));
    Picture all = Picture.of(256, 1);
    for (int v = 0; v < 256; v++) {
      all.set(v, 0, v * 0x10101);
    }
    PictureDifference near = all.difference(nearest.convert(all).colours(BITS));
    PictureDifference cut = all.difference(truncated.convert(all).colours(BITS));
    assertEquals(273.3984375, near.meanSquare(), 1e-9);
    assertEquals(23.763, near.psnr(), 0.0005);
    assertEquals(424.5, cut.meanSquare(), 1e-9);
    assertEquals(21.852, cut.psnr(), 0.0005);
  }

  @Test
  @DisplayName("G6: PSNR of one off everywhere, of one sample off by 255, of equal pictures")
  void signalToNoise() {
    Picture black = Picture.of(256, 256);
    Picture one = Picture.of(256, 256);
    for (int i = 0; i < 256 * 256; i++) {
      one.set(i % 256, i / 256, 0x010101);
    }
    assertEquals(48.1308, black.difference(one).psnr(), 0.00005);
    assertEquals(1, black.difference(one).largest());
    assertEquals(Double.POSITIVE_INFINITY, black.difference(black).psnr());
    Picture spot = Picture.of(256, 256);
    spot.set(17, 3, 0xFFFFFF);
    PictureDifference difference = black.difference(spot);
    assertEquals(48.1648, difference.psnr(), 0.00005);
    assertEquals(new PictureDifference(65025 / 65536.0, 255, 17, 3, 1), difference);
    assertThrows(IllegalArgumentException.class, () -> black.difference(Picture.of(256, 255)));
  }

  @Test
  @DisplayName("G6: pnmpsnr of netpbm prints the same figure")
  void netpbmMeasuresTheSame(@TempDir Path folder) throws IOException, InterruptedException {
    Netpbm.assumeInstalled("pnmpsnr");
    Random random = new Random(20261129);
    Picture left = Picture.of(33, 21);
    Picture right = Picture.of(33, 21);
    for (int i = 0; i < 33 * 21; i++) { // grey, since netpbm weighs colours before it compares
      int v = random.nextInt(256);
      left.set(i % 33, i / 33, v * 0x10101);
      int other = Math.max(0, Math.min(255, v + random.nextInt(9) - 4));
      right.set(i % 33, i / 33, other * 0x10101);
    }
    Path a = Files.write(folder.resolve("a.pgm"), grey(left));
    Path b = Files.write(folder.resolve("b.pgm"), grey(right));
    byte[] out = Netpbm.run(new byte[0], "pnmpsnr", "-machine", a.toString(), b.toString());
    double printed = Double.parseDouble(new String(out, StandardCharsets.US_ASCII).trim());
    assertEquals(printed, left.difference(right).psnr(), 0.006);
  }

  /** A raw grey map, "P5". */
  private static byte[] grey(Picture picture) {
    String head = String.format(Locale.ROOT, "P5 %d %d 255\n", picture.width(), picture.height());
    StringBuilder text = new StringBuilder(head);
    for (int colour : picture.colours()) {
      text.append((char) (colour & 0xFF));
    }
    return text.toString().getBytes(StandardCharsets.ISO_8859_1);
  }

  @Test
  void nearestOfATableIsTheFirstOfTheNearest() {
    Random random = new Random(7);
    for (int round = 0; round < 50; round++) {
      int size = (int) Math.round(Math.pow(256, random.nextDouble()));
      int[] table = random.ints(size, 0, 1 << 24).toArray();
      Palette palette = Palette.of(table).withWeights(3, 6, 1);
      int colour = random.nextInt(1 << 24);
      int code = palette.nearest(colour);
      for (int other = 0; other < size; other++) {
        double far = distance(table[other], colour);
        double near = distance(table[code], colour);
        assertTrue(other < code ? far > near : far >= near);
      }
    }
  }

  private static double distance(int a, int b) {
    return 3 * Math.pow((a >> 16) - (b >> 16), 2)
        + 6 * Math.pow((a >> 8 & 255) - (b >> 8 & 255), 2)
        + Math.pow((a & 255) - (b & 255), 2);
  }

  @Test
  void badPalettesAreRefused() {
    assertThrows(IllegalArgumentException.class, () -> Palette.levels(1, 8, 8));
    assertThrows(IllegalArgumentException.class, () -> Palette.levels(7, 7, 7));
    assertThrows(IllegalArgumentException.class, Palette::of);
    assertThrows(IllegalArgumentException.class, () -> Palette.of(1 << 24));
    assertThrows(IllegalArgumentException.class, () -> BITS.withWeights(0, 0, 0));
    Exception code = assertThrows(IllegalArgumentException.class, () -> CUBE.colour(216));
    assertEquals("Code \"216\" of a palette: it has 216 colours, from 0 on.", code.getMessage());
  }
}
