package dev.plumbline.drive;

import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.stimulus.Generator;
import dev.plumbline.stimulus.RandomStream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class BubbleNoiseTest {
  private static final int ROWS = 37;

  /** Blocks of every length, odd ones too, and now and then one that asks for no row at all. */
  @ParameterizedTest
  @CsvSource({
    "true,1",
    "false,1",
    "true,18",
    "false,32",
    "true,33",
    "false,63",
    "true,64",
    "true,70"
  })
  void rowsAskedForAreAsTheUniformGeneratorDrawsThem(boolean signed, int width) {
    Format format = new Format(signed, width, 0);
    BubbleNoise noise = new BubbleNoise(format, 5);
    IdleRows idleRows = new IdleRows(ROWS);
    Generator.Source all = Generator.uniform().open(format, 5);
    RandomStream chance = RandomStream.of(width);
    long[][] wanted = new long[format.words()][ROWS];
    long[][] got = new long[format.words()][ROWS];
    for (int block = 0; block < 50; block++) {
      int rows = 1 + chance.below(ROWS);
      int[] idle = new int[ROWS];
      int count = 0;
      for (int row = 0; row < rows; row++) {
        if (chance.below(3) < block % 3) {
          idle[count++] = row;
        }
      }
      all.fill(wanted, 0, rows);
      idleRows.next(idle, count, rows);
      noise.fill(got, idleRows);
      for (int i = 0; i < count; i++) {
        for (int word = 0; word < wanted.length; word++) {
          assertEquals(wanted[word][idle[i]], got[word][idle[i]], "row " + idle[i]);
        }
      }
    }
  }
}
