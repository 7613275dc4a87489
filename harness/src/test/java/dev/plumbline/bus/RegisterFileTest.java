package dev.plumbline.bus;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.cosim.DutOptions;
import dev.plumbline.cosim.InitialState;
import dev.plumbline.faults.FaultyCopies;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.toolchain.BuildOptions;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.opentest4j.AssertionFailedError;

/** Registers declared in text, and the bus by which they are reached. */
@Execution(ExecutionMode.CONCURRENT)
class RegisterFileTest {
  private static final Path BANK = Path.of("src/test/rtl/flow/knob_bank.v");
  private static final FaultyCopies COPIES = FaultyCopies.of(BANK, faults(), 1);
  private static final CompiledDesign MODEL =
      CompiledDesign.of(RtlSource.of(BANK), BuildOptions.defaults().withOptimisation(false));

  private static final RegisterFile KNOBS =
      RegisterFile.of(
          """
          # the knobs of the display
          register identity 0x00
            field number 15:0 read-only reset 0x0a51
          register mode 0x04
            field speed 2:0 read-write reset 5
            field lamp 8 read-write
          register limit 0x08
            field most 15:0 read-write reset 0x1234
          register alarm 0x0c
            field hot 0 one-to-clear
          register gain 0x10
            field level 7:0 read-write reset 64
            alias 0x50
          """);

  private static Bus bus(Dut dut) {
    dut.set("hrst_n", 0);
    dut.cycles(3);
    dut.set("hrst_n", 1);
    return Bus.of(dut)
        .withAddress("adr")
        .withData("wdat", "rdat")
        .withStrobe("sel", "we")
        .withAcknowledge("ack")
        .withTimeout(20);
  }

  private static Dut open() {
    return MODEL.open(DutOptions.defaults().withInitialState(InitialState.RANDOM));
  }

  @Test
  void rightRegistersHaveNothingWrong() {
    try (Dut dut = open()) {
      KNOBS.check(bus(dut));
    }
  }

  static Stream<Arguments> faults() {
    return Stream.of(
        Arguments.of("another reset value", List.of("3'd5;", "3'd4;"), "field speed"),
        Arguments.of("a bit that sticks", List.of("limit <= wdat", "limit <= wdat | 16'h0100"), ""),
        Arguments.of(
            "two bits swapped", List.of("<= wdat[2:0]", "<= {wdat[2], wdat[0], wdat[1]}"), ""),
        Arguments.of(
            "no reset of a register", List.of("      gain  <= 8'h40;\n", ""), "field level"),
        Arguments.of("address is not whole", List.of("adr == 8'h08)", "adr[3])"), "field"),
        Arguments.of("alias is another", List.of("|| adr == 8'h50)", ")"), "gain at 0x"),
        Arguments.of(
            "read-only takes writes",
            List.of("put && adr == 8'h08", "put && adr <= 8'h08 && adr != 8'h04"),
            ""),
        Arguments.of(
            "never acknowledges a write",
            List.of("ack <= take;", "ack <= take & ~we;"),
            "not acknowledged"));
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("faults")
  @Tag("thorough")
  void plantedFaultsAreFound(String name, List<String> texts, String shows) {
    try (Dut dut = COPIES.open(texts)) {
      String told = assertThrows(Throwable.class, () -> KNOBS.check(bus(dut)), name).getMessage();
      assertTrue(told.contains(shows), told);
    }
  }

  @Test
  void oneThatWasSetByHardwareIsClearedByOne() {
    try (Dut dut = open()) {
      Bus bus = bus(dut);
      dut.set("overheat", 1);
      bus.idle(1);
      dut.set("overheat", 0);
      assertEquals(1, bus.read(0x0c));
      bus.write(0x0c, 0);
      assertEquals(1, bus.read(0x0c));
      bus.write(0x0c, 1);
      assertEquals(0, bus.read(0x0c));
      assertEquals("cycle 4: read 0x1 at 0xc in 2 cycles", bus.log().get(0).toString());
      assertEquals(5, bus.log().size());
    }
  }

  @Test
  void timeoutsAreTypedAndTellWhatWasAwaited() {
    try (Dut dut = open()) {
      Bus bus = bus(dut);
      bus.write(0x08, 7);
      dut.set("hrst_n", 0);
      BusException late = assertThrows(BusException.class, () -> bus.read(0x08));
      assertEquals(
          "The read of 0x8 that began in cycle 5 was not acknowledged by ack in 20 cycles; up to 20"
              + " are allowed. Look at what the DUT waits for after \"cycle 3: wrote 0x7 at 0x8 in"
              + " 2 cycles\", or allow more by withTimeout(...).",
          late.getMessage());
      dut.set("hrst_n", 1);
      assertEquals(0x1234, bus.read(0x08), "the bus goes on");
    }
  }

  @Test
  void readsWithoutAcknowledgeAreSampledLater() {
    try (Dut dut = open()) {
      bus(dut);
      Bus plain =
          Bus.of(dut)
              .withAddress("adr")
              .withData("wdat", "rdat")
              .withStrobe("sel", "we")
              .withReadAfter(1);
      assertEquals(0x0a51, plain.read(0));
      plain.write(4, 2);
      plain.idle(1);
      assertEquals(2, plain.read(4));
    }
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          register a                     | 1: "register a" cannot be read
          regster a 0                    | 1: "regster" begins no line
          register a 0;  field b 3:4 read-only | 2: "field b 3:4 read-only" cannot be read
          register a 0;  field b 0 readonly | 2: "readonly" is no access; the nearest
          register a 0;  field b 70 read-only | 2: "70" is no number here; 0 to 0x3f
          register a 0;  field b 3:0 read-write reset 16 | 2: "16" is no number here; 0 to 0xf
          register a 0;  field b 3:0 read-write;  field c 3 read-only | 3: Field "c" has bits of "b"
          register a 0; register b 0x0   | 2: Address 0x0 is that of "a"
          memory a 0 7                   | 1: "memory a 0 7" cannot be read
          memory a 7 0 bits 8            | 1: "memory a 7 0 bits 8" cannot be read
          memory a 0 7 bits 0            | 1: A word of no bits keeps nothing
          memory a 0 7 bits 65           | 1: "65" is no number here; 0 to 0x40
          register a 4;  memory b 0 7 bits 8 | 2: Address 0x4 of "a" is one of memory "b"
          memory b 0 7 bits 8; register a 4  | 2: Address 0x4 of "a" is one of memory "b"
          memory b by a data 8 words 4 bits 8 | 1: "a" is no register above
          register a 4;  field n 1:0 read-write; memory b by a data 8 words 5 bits 8 | 3: "5" is no
          field b 0 read-only            | 1: "field b 0 read-only" cannot be read
          # nothing                      | 1: no register is declared
          """)
  void textThatCannotBeReadIsRefusedByLine(String text, String says) {
    BusException refused =
        assertThrows(BusException.class, () -> RegisterFile.of(text.replace("; ", "\n")));
    assertTrue(refused.getMessage().startsWith("registers:" + says), refused.getMessage());
  }

  @Test
  @Tag("thorough")
  void failureListsEachFieldThatIsWrong() {
    List<String> texts = List.of("3'd5;", "3'd4;");
    try (Dut dut = COPIES.open(texts)) {
      AssertionFailedError failed =
          assertThrows(AssertionFailedError.class, () -> KNOBS.check(bus(dut)));
      assertTrue(
          failed
              .getMessage()
              .contains(
                  "mode at 0x4, field speed (read-write): 0x4 where 0x5 is due, after reset, in"
                      + " cycle 5"),
          failed.getMessage());
    }
  }
}
