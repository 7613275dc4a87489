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
import dev.plumbline.verdict.Verdict;
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

/** Registers of a stranger's own, declared in text, under accesses by chance. */
@Execution(ExecutionMode.CONCURRENT)
class RandomAccessesTest {
  private static final Path DESK = Path.of("src/test/rtl/flow/winding_desk.v");
  private static final FaultyCopies COPIES = FaultyCopies.of(DESK, faults(), 1);
  private static final CompiledDesign MODEL =
      CompiledDesign.of(RtlSource.of(DESK), BuildOptions.defaults().withOptimisation(false));

  private static final String TEXT =
      """
      register maker 0
        field letters 23:0 read-only reset 0x4f5259
      register state 1
        field at_rest 0 read-only shows !winding
        field whole 23:16 read-only shows turns[11:4]
        field parts 15:12 read-only shows turns[3:0]
      register rings 2
        field rung 0 one-to-clear set-by bell
        field slipped 7 one-to-clear set-by slip
      register lever 3
        field release 4 write-only pulses release_now
      register spring 8
        field turns 23:0 read-write
        refused-while winding
      register torque 9
        field level 19:16 read-write reset 10
        refused-while winding
      register note 31
        field value 23:0 read-write
      elsewhere 0 31 refused
      writes of read-only refused
      reads of write-only refused
      """;

  private static final RegisterFile REGISTERS = RegisterFile.of(TEXT);

  private static Bus bus(Dut dut) {
    dut.set("clear", 1);
    dut.cycles(2);
    dut.set("clear", 0);
    return Bus.of(dut)
        .withAddress("place")
        .withData("put", "got")
        .withStrobes("rd", "wr")
        .withReadAfter(1)
        .withError("bad");
  }

  private static List<String> run(Dut dut, long accesses, long seed) {
    return REGISTERS.run(bus(dut), accesses, seed);
  }

  @ParameterizedTest
  @CsvSource({"1, 2000", "2, 2000"})
  void theRightDeskHasNothingWrong(long seed, long accesses) {
    try (Dut dut = MODEL.open(DutOptions.defaults().withInitialState(InitialState.RANDOM))) {
      assertEquals(List.of(), run(dut, accesses, seed));
    }
  }

  /** As a bench: a verdict, which names the register. */
  @Test
  void aBenchOfRegistersHasAVerdict() {
    Verdict right =
        RegisterBench.of(MODEL, REGISTERS)
            .reached(RandomAccessesTest::bus)
            .cases(500)
            .seed(4)
            .check();
    assertEquals(500, right.checked().cases());
    RegisterFile another = RegisterFile.of(TEXT.replace("reset 10", "reset 11"));
    Verdict wrong = RegisterBench.of(MODEL, another).reached(RandomAccessesTest::bus).run();
    assertEquals(Verdict.Outcome.MISMATCH, wrong.outcome());
    assertTrue(
        wrong.facts().contains("torque at 0x9, field level (read-write): 0xa where 0xb is due"),
        wrong.facts());
    BusException unreached =
        assertThrows(BusException.class, () -> RegisterBench.of(MODEL, another).run());
    assertTrue(
        unreached.getMessage().contains("\"winding_desk\" does not know"), unreached.getMessage());
  }

  @Test
  @Tag("thorough")
  void norByFortySeeds() {
    for (long seed = 10; seed < 50; seed++) {
      try (Dut dut = MODEL.open(DutOptions.defaults().withInitialState(InitialState.RANDOM))) {
        REGISTERS.check(bus(dut));
        assertEquals(List.of(), run(dut, 3_000, seed));
      }
    }
  }

  static Stream<Arguments> faults() {
    return Stream.of(
        Arguments.of(
            "an event is lost as its bit is cleared",
            List.of(
                "if (bell) rung <= 1'b1;\n    else if (write && place == RINGS && put[0]) rung <="
                    + " 1'b0;",
                "if (write && place == RINGS && put[0]) rung <= 1'b0;\n    else if (bell) rung <="
                    + " 1'b1;"),
            "rings at 0x2, field rung (one-to-clear): 0x0 where 0x1 is due"),
        Arguments.of(
            "a refused write takes effect all the same",
            List.of("if (write && drawer", "if (wr && drawer"),
            "where 0x"),
        Arguments.of(
            "an address is not looked at whole",
            List.of("of == NOTE ?", "of[4] ?"),
            "was not refused, which it should be"),
        Arguments.of(
            "an address that is none releases",
            List.of(
                "release_now = write && place == LEVER", "release_now = wr && place[1:0] == 2'd3"),
            "release_now was 1 in "));
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("faults")
  @Tag("thorough")
  void plantedFaultsAreFound(String name, List<String> texts, String shows) {
    try (Dut dut = COPIES.open(texts)) {
      Bus bus = bus(dut);
      String told =
          assertThrows(AssertionFailedError.class, () -> REGISTERS.check(bus, 2_000, 1), name)
              .getMessage();
      assertTrue(told.contains(shows), told);
      assertTrue(told.contains("of seed 1, the last of these:"), told);
    }
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          register a 0; field b 0 read-write shows c | 2: "field b 0 read-write shows c" cannot
          register a 0; field b 0 one-to-clear set-by !c | 2: "field b 0 one-to-clear set-by !c"
          register a 0; field b 1:0 write-only pulses c | 2: "field b 1:0 write-only pulses c"
          register a 0; field b 0 read-only shows c[ | 2: "field b 0 read-only shows c[" cannot
          refused-while c | 1: "refused-while c" cannot be read; refused-while PORT after a reg
          elsewhere 0 1 lost | 1: "elsewhere 0 1 lost" cannot be read; elsewhere FIRST LAST ref
          elsewhere 2 1 refused | 1: "2" is no number here; 0 to 0x1 are
          writes of anything refused | 1: "writes of anything refused" cannot be read; writes of
          leave | 1: "leave" cannot be read; leave ADDRESS is allowed
          """)
  void textThatCannotBeReadIsRefusedByLine(String text, String says) {
    BusException refused =
        assertThrows(BusException.class, () -> RegisterFile.of(text.replace("; ", "\n")));
    assertTrue(refused.getMessage().startsWith("registers:" + says), refused.getMessage());
  }
}
