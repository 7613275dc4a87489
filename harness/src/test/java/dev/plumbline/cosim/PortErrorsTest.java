package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * What cannot be done with a port, a batch or a DUT is reported with its value and what is allowed.
 */
@Execution(ExecutionMode.CONCURRENT)
class PortErrorsTest {
  private static final CompiledDesign MODEL = Driven.model("chest_types", "chest");
  private static final CompiledDesign CLOCKED = Driven.model("weigh_house");

  private static String refusal(Executable call) {
    return assertThrows(PortException.class, call).getMessage();
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "in_u55   | Module chest has no port \"in_u55\"; the nearest are in_u5, ",
        "IN_POSES | Module chest has no port \"IN_POSES\"; the nearest are in_pose, ",
        "in_row[4]    | Port \"in_row\" has no element \"in_row[4]\"; its indices are [0:3]",
        "in_row[-1]   | Port \"in_row\" has no element \"in_row[-1]\"; its indices are [0:3]",
        "in_row[0][0] | Port \"in_row\" has no element \"in_row[0][0]\"; its indices are [0:3]",
        "in_row[      | Port \"in_row\" has no element \"in_row[\"; its indices are [0:3]",
        "in_row[]     | Port \"in_row\" has no element \"in_row[]\"; its indices are [0:3]",
        "in_row[x]    | Port \"in_row\" has no element \"in_row[x]\"; its indices are [0:3]",
        "in_row[99999999999] | Port \"in_row\" has no element \"in_row[99999999999]\"; its indices"
            + " are",
        "in_deep[0][0] | Port \"in_deep\" has no element \"in_deep[0][0]\"; its indices are"
            + " [3:1][0:1]",
        "in_deep[1]   | Port \"in_deep\" has no element \"in_deep[1]\"; its indices are [3:1][0:1]",
        "in_u5[0]     | Port \"in_u5\" has no element \"in_u5[0]\"; it is no array",
      })
  void aPortThatIsNotThereIsNamedWithWhatIs(String port, String message) {
    try (Dut dut = MODEL.open()) {
      Batch batch = dut.batch(1);
      for (Executable call :
          new Executable[] {
            () -> dut.set(port, 0),
            () -> dut.get(port),
            () -> dut.getWords(port),
            () -> batch.column(port)
          }) {
        String refusal = refusal(call);
        assertTrue(refusal.startsWith(message), refusal);
      }
    }
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "in_bit | 2   | Port \"in_bit\" cannot have 2 (0x2); allowed is 0 to 1.",
        "in_u5  | 32  | Port \"in_u5\" cannot have 32 (0x20); allowed is 0 to 31.",
        "in_u5  | -1  | Port \"in_u5\" cannot have -1 (0xffffffffffffffff); allowed is 0 to 31.",
        "in_s5  | 16  | Port \"in_s5\" cannot have 16 (0x10); allowed is -16 to 15.",
        "in_s5  | -17 | Port \"in_s5\" cannot have -17 (0xffffffffffffffef); allowed is -16 to 15.",
        "in_season | 4 | Port \"in_season\" cannot have 4 (0x4); allowed is 0 to 3.",
      })
  void aCodeOutOfRangeIsRefusedAndChangesNothing(String port, long code, String message) {
    try (Dut dut = MODEL.open()) {
      dut.set(port, 1);
      assertEquals(message, refusal(() -> dut.set(port, code)));
      assertEquals(1, dut.get(port));
    }
  }

  @Test
  void wordsHaveToBeAsManyAsThePortTakesAndFitTheHighest() {
    try (Dut dut = MODEL.open()) {
      assertEquals(
          "Port \"in_u65\" takes 2 words of 64 bits, not 1; give as many.",
          refusal(() -> dut.set("in_u65", 0)));
      assertEquals(
          "Port \"in_u5\" takes 1 word of 64 bits, not 0; give as many.",
          refusal(() -> dut.set("in_u5")));
      assertEquals(
          "Port \"in_row\" takes 4 words of 64 bits, not 3; give as many.",
          refusal(() -> dut.set("in_row", 1, 2, 3)));
      assertEquals(
          "Port \"in_u65\" cannot have 2 (0x2) as its highest word; allowed is 0 to 1.",
          refusal(() -> dut.set("in_u65", 0, 2)));
      assertEquals(
          "Port \"in_s200\" cannot have 128 (0x80) as its highest word; allowed is -128 to 127.",
          refusal(() -> dut.set("in_s200", 0, 0, 0, 128)));
      assertEquals(
          "Port \"in_row\" cannot have 4096 (0x1000); allowed is 0 to 4095.",
          refusal(() -> dut.set("in_row", 0, 0, 0, 4096)));
      assertEquals(
          "Port \"out_u65\" takes 2 words; getWords gives them all.",
          refusal(() -> dut.get("out_u65")));
    }
  }

  @Test
  void directionsAndClocksAreMinded() {
    try (Dut dut = CLOCKED.open()) {
      assertEquals(
          "Port \"total\" is no input and cannot be set; set an input.",
          refusal(() -> dut.set("total", 0, 0)));
      assertEquals(
          "Port \"clk\" is driven as a clock and cannot be set; see Clocking.none().",
          refusal(() -> dut.set("clk", 1)));
      assertEquals(
          "Port \"clk\" is driven as a clock and has no column; take another port.",
          refusal(() -> dut.batch(1).column("clk")));
    }
    for (String port : new String[] {"total", "in_weight", "in_ready"}) {
      assertEquals(
          "Port \"" + port + "\" cannot be a clock; wanted is an input of one bit.",
          refusal(
              () -> CLOCKED.open(DutOptions.defaults().withClocking(Clocking.of(port))).close()));
    }
    try (Dut dut = CLOCKED.open(DutOptions.defaults().withClocking(Clocking.none()))) {
      dut.set("clk", 1);
      assertEquals(1, dut.get("clk"), "without clocking it is an input as any other");
    }
  }

  @Test
  void columnsHaveWordsAndElements() {
    try (Dut dut = MODEL.open()) {
      Batch batch = dut.batch(1);
      assertEquals(
          "Port \"in_row\" is an array; name an element, as in column(\"in_row[0]\").",
          refusal(() -> batch.column("in_row")));
      assertEquals(
          "Port \"in_u200\" has no word 4; allowed is 0 to 3.",
          refusal(() -> batch.column("in_u200", 4)));
      assertEquals(
          "Port \"in_u5\" has no word -1; allowed is 0 to 0.",
          refusal(() -> batch.column("in_u5", -1)));
    }
  }

  @Test
  void handshakesNeedAnInputAndAnOutputOfOneBit() {
    try (Dut dut = CLOCKED.open()) {
      Batch batch = dut.batch(4);
      assertEquals(
          "Port \"in_ready\" cannot be a valid; wanted is an input of one bit.",
          refusal(() -> batch.handshake("in_ready", "in_ready")));
      assertEquals(
          "Port \"in_valid\" cannot be a ready; wanted is an output of one bit.",
          refusal(() -> batch.handshake("in_valid", "in_valid")));
      assertEquals(
          "Port \"taken\" cannot be a ready; wanted is an output of one bit.",
          refusal(() -> batch.handshake("in_valid", "taken")));
      assertEquals(
          "A run with cases needs to know valid and ready; call Batch.handshake first.",
          assertThrows(IllegalStateException.class, () -> dut.run(batch, 1, 1)).getMessage());
      batch.handshake("in_valid", "in_ready");
      for (int cases : new int[] {-1, 5}) {
        assertEquals(
            cases + " cases; allowed is 0 to 4.",
            assertThrows(IllegalArgumentException.class, () -> dut.run(batch, 1, cases))
                .getMessage());
      }
    }
  }

  @Test
  void batchesBelongToOneDutAndHaveTheirSize() {
    try (Dut dut = MODEL.open();
        Dut other = MODEL.open()) {
      Batch batch = dut.batch(3);
      assertEquals(
          "This batch belongs to another DUT; run it on the one that made it.",
          assertThrows(IllegalArgumentException.class, () -> other.run(batch, 1)).getMessage());
      for (int rows : new int[] {-1, 4}) {
        assertEquals(
            rows + " rows; allowed is 0 to 3.",
            assertThrows(IllegalArgumentException.class, () -> dut.run(batch, rows)).getMessage());
      }
      assertEquals(0, dut.run(batch, 0));
      for (int rows : new int[] {0, -1, 100_000_000, Integer.MAX_VALUE}) {
        String refusal =
            assertThrows(IllegalArgumentException.class, () -> dut.batch(rows)).getMessage();
        assertTrue(
            refusal.matches("A batch of " + rows + " rows; allowed is 1 to \\d+[.]"), refusal);
      }
      assertEquals(
          "-1 cycles; allowed is 0 or more.",
          assertThrows(IllegalArgumentException.class, () -> dut.cycles(-1)).getMessage());
    }
  }

  static Stream<Arguments> everyCall() {
    Dut dut = CLOCKED.open();
    Batch batch = dut.batch(4);
    batch.handshake("in_valid", "in_ready");
    dut.close();
    return Stream.of(
        call("set", () -> dut.set("shut", 1)),
        call("get", () -> dut.get("taken")),
        call("getWords", () -> dut.getWords("total")),
        call("cycle", dut::cycle),
        call("cycles", () -> dut.cycles(2)),
        call("settle", dut::settle),
        call("batch", () -> dut.batch(1)),
        call("run", () -> dut.run(batch, 1)),
        call("run with cases", () -> dut.run(batch, 1, 1)),
        call("text", dut::text),
        call("cyclesRun", dut::cyclesRun),
        call("errorsPassedOver", dut::errorsPassedOver));
  }

  private static Arguments call(String name, Executable call) {
    return Arguments.of(name, call);
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("everyCall")
  void afterCloseEveryCallSaysSo(String name, Executable call) {
    assertEquals(
        "The model of \"weigh_house\" is closed; open another one.",
        assertThrows(IllegalStateException.class, call, name).getMessage());
  }

  @Test
  void closingAgainDoesNothing() {
    Dut dut = MODEL.open();
    dut.close();
    dut.close();
  }
}
