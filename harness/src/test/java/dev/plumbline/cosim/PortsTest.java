package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.math.BigInteger;
import java.util.Arrays;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Values of every shape of port, one by one and by columns, through a design without a clock. */
@Execution(ExecutionMode.CONCURRENT)
class PortsTest {
  private static final CompiledDesign MODEL = Driven.model("chest_types", "chest");

  private final SplittableRandom random = new SplittableRandom(20);

  @ParameterizedTest
  @CsvSource({
    "bit, 1, false",
    "u5, 5, false",
    "s5, 5, true",
    "s33, 33, true",
    "u64, 64, false",
    "s64, 64, true",
    "u65, 65, false",
    "s65, 65, true",
    "u128, 128, false",
    "s128, 128, true",
    "u200, 200, false",
    "s200, 200, true",
    "season, 2, false",
    "pose, 73, false",
  })
  void everyValueOfAPortComesBack(String port, int width, boolean signed) {
    int words = (width + 63) / 64;
    try (Dut dut = MODEL.open()) {
      for (int i = 0; i < 100; i++) {
        BigInteger value = Driven.draw(random, width, signed);
        dut.set("in_" + port, Driven.words(value, words));
        dut.cycle();

        assertEquals(value, Driven.value(signed, dut.getWords("out_" + port)));
        assertEquals(value, Driven.value(signed, dut.getWords("in_" + port)));
      }
    }
  }

  @ParameterizedTest
  @CsvSource({
    "bit, 1, false",
    "s5, 5, true",
    "s33, 33, true",
    "u64, 64, false",
    "u65, 65, false",
    "s65, 65, true",
    "s128, 128, true",
    "u200, 200, false",
    "s200, 200, true",
  })
  void columnsIgnoreBitsBeyondTheWidthAndGiveExtendedWords(String port, int width, boolean signed) {
    int words = (width + 63) / 64;
    int rows = 50;
    try (Dut dut = MODEL.open()) {
      Batch batch = dut.batch(rows);
      BigInteger[] values = new BigInteger[rows];
      for (int row = 0; row < rows; row++) {
        values[row] = Driven.draw(random, 64 * words, true);
        for (int word = 0; word < words; word++) {
          batch.column("in_" + port, word)[row] = Driven.words(values[row], words)[word];
        }
      }
      for (int word = 0; word < words; word++) {
        batch.column("out_" + port, word);
      }
      assertEquals(rows, dut.run(batch, rows));

      for (int row = 0; row < rows; row++) {
        long[] sampled = new long[words];
        for (int word = 0; word < words; word++) {
          sampled[word] = batch.column("out_" + port, word)[row];
        }
        BigInteger expected = Driven.wrapped(values[row], width, signed);
        assertArrayEquals(Driven.words(expected, words), sampled, "row " + row);
      }
      // The ports have what the last row had, inputs too.
      BigInteger last = Driven.wrapped(values[rows - 1], width, signed);
      assertArrayEquals(Driven.words(last, words), dut.getWords("out_" + port));
      assertArrayEquals(Driven.words(last, words), dut.getWords("in_" + port));
    }
  }

  @Test
  void columnsAskedForAfterARunHaveWhatItSampled() {
    try (Dut dut = MODEL.open()) {
      Batch batch = dut.batch(10);
      Arrays.setAll(batch.column("in_s5"), row -> -row);
      dut.run(batch, 10);

      assertArrayEquals(new long[] {0, -1, -2, -3, -4, -5, -6, -7, -8, -9}, batch.column("out_s5"));
    }
  }

  @Test
  void inputsWithoutAColumnKeepWhatTheyWereSetTo() {
    try (Dut dut = MODEL.open()) {
      Batch batch = dut.batch(4);
      long[] row = batch.column("out_row[3]");
      long[] wide = batch.column("out_s65", 1);
      dut.set("in_row[0]", 77);
      dut.set("in_s65", 5, -1);
      dut.run(batch, 4);
      assertArrayEquals(new long[] {77, 77, 77, 77}, row);
      assertArrayEquals(new long[] {-1, -1, -1, -1}, wide);

      dut.set("in_row[0]", 78);
      dut.run(batch, 2);
      assertArrayEquals(new long[] {78, 78, 77, 77}, row);
    }
  }

  @Test
  void arraysGoByElementOrWholeInAscendingOrder() {
    try (Dut dut = MODEL.open()) {
      dut.set("in_row", 1, 2, 3, 4);
      dut.set("in_row[2]", 0xFFF);
      // Three by two elements of two words each: [1][0], [1][1], [2][0], ...
      dut.set("in_deep", 10, 0, 11, -1, 20, 0, 21, -1, 30, 0, 31, -1);
      dut.set("in_deep[3][1]", -5, -1);
      dut.cycle();

      assertArrayEquals(new long[] {4, 0xFFF, 2, 1}, dut.getWords("out_row"));
      assertEquals(0xFFF, dut.get("out_row[1]"));
      assertArrayEquals(new long[] {10, 0}, dut.getWords("out_deep[1][1]"));
      assertArrayEquals(new long[] {-5, -1}, dut.getWords("out_deep[2][0]"));
      assertArrayEquals(new long[] {30, 0}, dut.getWords("out_deep[2][1]"));
      assertArrayEquals(new long[] {21, -1}, dut.getWords("out_deep[3][0]"));
    }
  }

  @Test
  void structsAndSumsAreBits() {
    try (Dut dut = MODEL.open()) {
      for (int i = 0; i < 100; i++) {
        BigInteger angle = Driven.draw(random, 9, true);
        BigInteger mark = Driven.draw(random, 64, false);
        BigInteger pose = Driven.wrapped(angle.shiftLeft(64).add(mark), 73, false);
        BigInteger left = Driven.draw(random, 200, true);
        BigInteger right = Driven.draw(random, 65, true);
        dut.set("in_pose", Driven.words(pose, 2));
        dut.set("in_s200", Driven.words(left, 4));
        dut.set("in_s65", Driven.words(right, 2));
        dut.settle();

        assertEquals(angle.longValue(), dut.get("out_angle"));
        assertEquals(mark.longValue(), dut.get("out_mark"));
        assertEquals(left.add(right), Driven.value(true, dut.getWords("out_sum")));
      }
    }
  }

  @Test
  void inoutsAreSampledAndNeverDriven() {
    try (Dut dut = MODEL.open()) {
      dut.set("in_u128", 0xA5, 0);
      dut.set("drive", 1);
      dut.cycle();
      assertEquals(0xA5, dut.get("pad"));

      PortException e = assertThrows(PortException.class, () -> dut.set("pad", 1));
      assertEquals("Port \"pad\" is no input and cannot be set; set an input.", e.getMessage());
    }
  }

  @Test
  void withoutAClockAWholeCycleIsOneEvaluation() {
    try (Dut dut = MODEL.open()) {
      dut.set("in_s5", -16);
      assertEquals(0, dut.get("out_s5"), "not sampled yet");
      dut.cycle();
      assertEquals(-16, dut.get("out_s5"));
      assertEquals(1, dut.cyclesRun());
      dut.set("in_s5", 15);
      dut.settle();
      assertEquals(15, dut.get("out_s5"));
      assertEquals(1, dut.cyclesRun(), "settling counts as none");
      dut.cycles(0);
      assertEquals(1, dut.cyclesRun());
    }
  }
}
