package dev.plumbline.bus;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.faults.FaultyCopies;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.verdict.Verdict;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/** Memories of a register file in text: what March C- sees of them. */
@Tag("thorough")
class MarchRunTest {
  private static final Path CABINET = Path.of("src/test/rtl/flow/label_cabinet.v");
  private static final FaultyCopies COPIES = FaultyCopies.of(CABINET, faults(), 1);

  private static final RegisterFile FILE =
      RegisterFile.of(
          """
          register drawer 0x04
            field number 3:0 read-write
          memory labels 0x40 0x5f bits 12
          memory notes by drawer data 0x08 words 16 bits 16
          elsewhere 0x00 0xff ignored
          """);

  private static Bus bus(Dut dut) {
    dut.set("rst", 1);
    dut.cycles(2);
    dut.set("rst", 0);
    return Bus.of(dut)
        .withAddress("adr")
        .withData("wdat", "rdat")
        .withStrobe("sel", "we")
        .withAcknowledge("ack")
        .withTimeout(20);
  }

  /** What A. van de Goor's book lists: stuck bits, transitions, coupled words, addresses. */
  static Stream<Arguments> faults() {
    return Stream.of(
        Arguments.of(
            "a bit that sticks",
            List.of("<= wdat[11:0];", "<= wdat[11:0] & ~(place == 5'd9 ? 12'd4 : 12'd0);"),
            "labels, word 9 at 0x49: 0xffb where 0xfff is due, in pass 3 of March C-"),
        Arguments.of(
            "a bit that does not fall",
            List.of(
                "<= wdat[11:0];", "<= wdat[11:0] | (place == 5'd3 ? labels[3] & 12'd1 : 12'd0);"),
            "labels, word 3 at 0x43: 0x1 where 0x0 is due"),
        Arguments.of(
            "a word that another changes",
            List.of(
                "labels[place] <= wdat[11:0];",
                "begin labels[place] <= wdat[11:0];"
                    + " if (place == 5'd30 && wdat[0]) labels[2][0] <= 1'b1; end"),
            "labels, word 2 at 0x42: "),
        Arguments.of(
            "two addresses of one word",
            List.of("wire [4:0] place = adr[4:0];", "wire [4:0] place = {adr[4], 1'b0, adr[2:0]};"),
            "labels, word 8 at 0x48: 0xfff where 0x0 is due, in pass 2 of March C-"),
        Arguments.of(
            "two bits of a word joined",
            List.of(
                "<= notes[drawer];",
                "<= notes[drawer] | {14'd0, notes[drawer][1:0] == 2'd1, 1'b0};"),
            "notes, word 0 at 0x8: 0x5557 where 0x5555 is due"),
        Arguments.of(
            "half of the drawers",
            List.of("notes[drawer] <= wdat;", "notes[drawer & 4'd7] <= wdat;"),
            "notes, word "));
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("faults")
  @DisplayName("K1: March C- sees it")
  void plantedFaultsAreFound(String name, List<String> texts, String shows) {
    try (Dut dut = COPIES.open(texts)) {
      List<String> wrong = FILE.run(bus(dut));

      assertEquals(1, wrong.size(), wrong.toString());
      assertTrue(wrong.get(0).startsWith(shows), wrong.get(0));
    }
  }

  @Test
  void rightMemoriesPassTheBench() {
    CompiledDesign model =
        CompiledDesign.of(RtlSource.of(CABINET), BuildOptions.defaults().withOptimisation(false));

    Verdict verdict = RegisterBench.of(model, FILE).reached(MarchRunTest::bus).cases(2_000).check();

    // Sixteen words by a register: 10 accesses and 6 choices for each of 5 backgrounds.
    assertTrue(verdict.cycles() > 2 * (32 * 10 * 5 + 16 * 16 * 5), verdict.facts());
  }
}
