package dev.plumbline.samples.chip;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.samples.Command;
import dev.plumbline.samples.chip.ConverterDriver.Settings;
import java.io.ByteArrayOutputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What the picture converter puts out, held to programs of netpbm 11 where they are installed. */
@Tag("thorough")
class NetpbmConverterTest {
  private static final CompiledDesign MODEL = ChipBlock.model("picture_converter", "XW=9", "YW=9");
  private static final int SIDE = 8; // of the dither matrix
  private static final int CELLS = SIDE * SIDE;
  private static final int LEVELS = 256;

  @TempDir Path folder;

  private static void assumeInstalled(String program) {
    assumeTrue(Command.find(program).isPresent(), program + " of netpbm is not on PATH");
  }

  /** Numbers of the plain pixmap that a pipe of programs gives: width, height, most, samples. */
  private int[] numbers(String pipe) {
    Command.Outcome outcome =
        Command.run(folder, List.of("sh", "-c", "(" + pipe + " | pnmtoplainpnm) 2>/dev/null"));
    assertEquals(0, outcome.status(), outcome.output());
    String[] words = outcome.output().trim().split("\\s+");
    assertEquals("P3", words[0]);
    return Arrays.stream(words).skip(1).mapToInt(Integer::parseInt).toArray();
  }

  /**
   * Cells by how early they light: each has as many squares below each other as there are levels.
   */
  private static Integer[] order(int[] firstLit) {
    Integer[] cells = IntStream.range(0, CELLS).boxed().toArray(Integer[]::new);
    Arrays.sort(cells, Comparator.comparingInt(cell -> firstLit[cell]));
    return cells;
  }

  /** By netpbm's own documentation, a grey pixel is lit where it is above its cell's threshold. */
  private int[] firstLitByNetpbm() throws IOException {
    StringBuilder greys = new StringBuilder("P3 8 " + SIDE * LEVELS + " 255\n");
    for (int value = 0; value < LEVELS; value++) {
      greys.append((value + " " + value + " " + value + "\n").repeat(CELLS));
    }
    Files.writeString(folder.resolve("greys.ppm"), greys);
    int[] lit = numbers("ppmdither -dim=3 -red=2 -green=2 -blue=2 greys.ppm");
    int[] first = new int[CELLS];
    Arrays.fill(first, LEVELS);
    for (int row = SIDE * LEVELS - 1; row >= 0; row--) {
      for (int x = 0; x < SIDE; x++) {
        if (lit[3 + 3 * (SIDE * row + x)] > 0) {
          first[row % SIDE * SIDE + x] = row / SIDE;
        }
      }
    }
    return first;
  }

  /** The lowest step of blue in 3-3-2 is 85 values long, so that each of the 64 cells has one. */
  private static int[] firstLitByTheChip() {
    int[] first = new int[CELLS];
    Arrays.fill(first, LEVELS);
    try (ConverterDriver driver = new ConverterDriver(MODEL, 1)) {
      Settings settings = new Settings(128, 128, false, true, false);
      driver.settings(settings);
      driver.paint(settings, (x, y) -> y / SIDE * 16 + x / SIDE);
      driver.swap(0);
      int[][] codes = ConverterDriver.codes(settings, driver.words(settings));
      for (int y = 127; y >= 0; y--) {
        for (int x = 127; x >= 0; x--) {
          int value = y / SIDE * 16 + x / SIDE;
          int cell = y % SIDE * SIDE + x % SIDE;
          if ((codes[y][x] & 3) > 0 && value < first[cell]) {
            first[cell] = value;
          }
        }
      }
    }
    return first;
  }

  @Test
  @DisplayName("G3: the chip lights cells in the order of netpbm's ditherer, turned and mirrored")
  void cellsLightInNetpbmsOrder() throws IOException {
    assumeInstalled("ppmdither");
    Integer[] netpbm = order(firstLitByNetpbm());
    Integer[] chip = order(firstLitByTheChip());

    // n^2 - 1 - k with columns mirrored is the published matrix.
    Integer[] turned = new Integer[CELLS];
    for (int k = 0; k < CELLS; k++) {
      int cell = netpbm[CELLS - 1 - k];
      turned[k] = cell / SIDE * SIDE + SIDE - 1 - cell % SIDE;
    }
    assertArrayEquals(turned, chip);
  }

  @Test
  @DisplayName("G8, G9: netpbm reads the chip's bit planes as the picture that it was given")
  void netpbmReadsTheChipsPlanes() throws IOException {
    assumeInstalled("ilbmtoppm");
    Settings settings = new Settings(45, 23, false, false, false);
    int[] colours =
        IntStream.range(0, 45 * 23)
            .map(i -> ConverterChecks.expanded(i * 0x9E37 >> 3 & 255))
            .toArray();
    List<Integer> words;
    try (ConverterDriver driver = new ConverterDriver(MODEL, 2)) {
      driver.settings(settings);
      driver.paint(settings, (x, y) -> colours[45 * y + x]);
      driver.swap(0);
      words = driver.words(settings);
    }
    Files.write(folder.resolve("chip.ilbm"), ilbm(settings, words));

    int[] read = numbers("ilbmtoppm chip.ilbm");

    assertArrayEquals(new int[] {45, 23, 255}, Arrays.copyOf(read, 3));
    for (int i = 0; i < colours.length; i++) {
      int colour = read[3 + 3 * i] << 16 | read[4 + 3 * i] << 8 | read[5 + 3 * i];
      assertEquals(colours[i], colour, "pixel " + i % 45 + ", " + i / 45);
    }
  }

  /**
   * J. Morrison, "ILBM" Interleaved Bitmap, Electronic Arts 1986: header, 256 colours, plain body.
   */
  private static byte[] ilbm(Settings settings, List<Integer> words) throws IOException {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    DataOutputStream out = new DataOutputStream(bytes);
    int body = 2 * words.size();
    out.write("FORM".getBytes(StandardCharsets.US_ASCII));
    out.writeInt(4 + 8 + 20 + 8 + 3 * 256 + 8 + body);
    out.write("ILBMBMHD".getBytes(StandardCharsets.US_ASCII));
    out.writeInt(20);
    out.writeShort(settings.width());
    out.writeShort(settings.height());
    out.writeInt(0); // place
    out.writeByte(8); // planes
    out.writeByte(0); // no mask
    out.writeByte(0); // no compression
    out.writeByte(0);
    out.writeShort(0); // no transparent colour
    out.writeShort(0x0101); // square pixels
    out.writeShort(settings.width());
    out.writeShort(settings.height());
    out.write("CMAP".getBytes(StandardCharsets.US_ASCII));
    out.writeInt(3 * 256);
    for (int code = 0; code < 256; code++) {
      int colour = ConverterChecks.expanded(code);
      out.writeByte(colour >> 16);
      out.writeByte(colour >> 8);
      out.writeByte(colour);
    }
    out.write("BODY".getBytes(StandardCharsets.US_ASCII));
    out.writeInt(body);
    for (int word : words) {
      out.writeShort(word);
    }
    return bytes.toByteArray();
  }
}
