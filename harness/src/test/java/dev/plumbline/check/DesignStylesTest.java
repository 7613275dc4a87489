package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.ContractException;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.Clocking;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.cosim.DutOptions;
import dev.plumbline.cosim.Trace;
import dev.plumbline.cosim.Watch;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.verdict.KeptCase;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.MismatchGroup;
import dev.plumbline.verdict.MismatchGroup.LikelyKind;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Row;
import dev.plumbline.verdict.Stage;
import dev.plumbline.verdict.Verdict;
import dev.plumbline.verdict.Verdict.Outcome;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.zip.CRC32;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Designs in other styles than pipelines of arithmetic, each right and with a fault: what a reader
 * of the failure needs has to be there. References are Java's own division and CRC-32 ({@code
 * java.util.zip}), the equations of coordinate rotation (J. E. Volder, The CORDIC trigonometric
 * computing technique, 1959), and what a queue and a processor of one register are.
 */
@Tag("thorough")
class DesignStylesTest {
  private static final Path RTL = Path.of("src/test/rtl/styles");

  private static final String TURN = "Turn1 = 14'sd1899";
  private static final String TURN_OFF = "Turn1 = 14'sd1891";

  @TempDir private Path folder;

  private static Recorder keeper() {
    return new Recorder() {
      @Override
      public Optional<Path> record(Verdict verdict) {
        return Optional.empty();
      }

      @Override
      public boolean keepsInside() {
        return true;
      }
    };
  }

  private Verdict red(String file, Contract contract, String original, String replacement) {
    Path source = RTL.resolve(file);
    Bench.of(CompiledDesign.of(RtlSource.of(source))).contract(contract).cases(20_000).check();
    Verdict verdict =
        Bench.of(PlantedDesign.of(source, folder, original, replacement))
            .contract(contract)
            .cases(20_000)
            .recorder(keeper())
            .run();
    assertEquals(Outcome.MISMATCH, verdict.outcome(), verdict::facts);
    System.out.println(verdict.facts());
    Mismatch first = verdict.kept().get(0);
    assertTrue(first.cycle() > 0, verdict::facts);
    Row row = verdict.row(first.cycle()).orElseThrow();
    assertEquals(first.words(), row.verdict());
    return verdict;
  }

  private static KeptCase smallest(Verdict verdict) {
    return verdict.groups().get(0).smallest().orElseThrow();
  }

  private static List<LikelyKind> likely(Verdict verdict) {
    return verdict.groups().get(0).likely().stream().map(MismatchGroup.Hypothesis::kind).toList();
  }

  private static long code(KeptCase kept, int row, String column) {
    List<String> names = kept.columns().stream().map(KeptCase.Column::name).toList();
    return kept.cycles().get(row).get(names.indexOf(column)).longValueExact();
  }

  private static Operand unsigned(String name, int bits) {
    return new Operand(name, Format.unsigned(bits, 0));
  }

  /** Division by 0 gives all ones and the dividend, as the restoring algorithm does by itself. */
  private static Contract division() {
    Reference division =
        Reference.of(
            "division",
            List.of(unsigned("beads", 12), unsigned("trays", 12)),
            List.of(unsigned("each", 12), unsigned("left", 12)),
            (in, out) -> {
              out[0] = in[1] == 0 ? 0xFFF : in[0] / in[1];
              out[1] = in[1] == 0 ? in[0] : in[0] % in[1];
            });
    return Contract.of(division.explainedBy(restoring()))
        .input("beads", "beads")
        .input("trays", "trays")
        .output("each", "each")
        .output("left", "left")
        .valid("start", "done")
        .ready("idle", null)
        .reset("rst")
        .latencyBetween(1, 40)
        .build();
  }

  /** Restoring division, a digit of the quotient after the other: common practice, no source. */
  private static Datapath restoring() {
    Datapath.Builder b = Datapath.named("restoring");
    Format word = Format.unsigned(12, 0);
    Value beads = b.input("beads", word);
    Value trays = b.input("trays", word);
    Value rest = b.constant("nothing", word, 0);
    Value[] digits = new Value[12];
    for (int i = 0; i < digits.length; i++) {
      Value shifted =
          b.concatenate("shifted" + i, rest, b.field("bead" + i, beads, 11 - i, 11 - i));
      digits[i] = b.atMost("fits" + i, trays, shifted);
      Value less = b.select("less" + i, digits[i], b.subtract("cut" + i, shifted, trays), shifted);
      rest = b.convert("rest" + i, less, word, Rounding.FLOOR, Overflow.WRAP);
    }
    return b.output("each", b.concatenate("quotient", digits)).output("left", rest).build();
  }

  @Test
  void aDividerWithStartAndDone() {
    Verdict verdict =
        red(
            "bead_divider.sv",
            division(),
            "shifted >= {1'b0, trays_q}",
            "shifted > {1'b0, trays_q}");
    assertTrue(verdict.facts().contains("beads = "), verdict::facts);
    KeptCase kept = smallest(verdict);
    assertEquals(2, kept.cycles().size(), "a reset and one division");
    assertEquals(
        0, code(kept, 1, "beads") % Math.max(1, code(kept, 1, "trays")), "it comes out even");
    assertEquals(List.of(LikelyKind.DECISION), likely(verdict), verdict::facts);
    assertTrue(verdict.facts().contains("step fits* compares by < instead of <="), verdict::facts);
    assertTrue(verdict.facts().contains("first wrong: bead_divider.fits ("), verdict::facts);
  }

  private static Datapath rotation() {
    Format s12 = Format.signed(2, 12);
    Datapath.Builder b = Datapath.named("rotation");
    Value z = b.input("angle", s12);
    Value zero = b.constant("zero", s12, 0);
    Value x = b.constant("one", s12, 4096);
    Value y = zero;
    long[] turns = {3217, 1899, 1003, 509}; // atan 2^-i, 12 fraction bits, to nearest
    for (int i = 0; i < 4; i++) {
      Value negative = b.lessThan("negative" + i, z, zero);
      Value ys = b.convert("ys" + i, b.scale("yh" + i, y, -i), s12, Rounding.FLOOR, Overflow.WRAP);
      Value xs = b.convert("xs" + i, b.scale("xh" + i, x, -i), s12, Rounding.FLOOR, Overflow.WRAP);
      Value turn = b.constant("turn" + i, s12, turns[i]);
      Value nextX =
          b.select("sx" + i, negative, b.add("xa" + i, x, ys), b.subtract("xb" + i, x, ys));
      Value nextY =
          b.select("sy" + i, negative, b.subtract("yb" + i, y, xs), b.add("ya" + i, y, xs));
      Value nextZ =
          b.select("sz" + i, negative, b.add("za" + i, z, turn), b.subtract("zb" + i, z, turn));
      x = b.convert("x" + (i + 1), nextX, s12, Rounding.FLOOR, Overflow.WRAP);
      y = b.convert("y" + (i + 1), nextY, s12, Rounding.FLOOR, Overflow.WRAP);
      z = b.convert("z" + (i + 1), nextZ, s12, Rounding.FLOOR, Overflow.WRAP);
    }
    b.output("x", x);
    b.output("y", y);
    return b.build();
  }

  static Contract turning() {
    return Contract.of(Reference.exact(rotation()))
        .valid("in_valid", "out_valid")
        .reset("rst")
        .latency(4)
        .build();
  }

  @Test
  void aRotationByIterations() {
    Contract contract = turning();
    Verdict verdict = red("dial_rotor.sv", contract, TURN, TURN_OFF);
    assertTrue(
        verdict.facts().contains("first to equal no step: dial_rotor.z2_q ("), verdict::facts);
    assertEquals(2, smallest(verdict).cycles().size(), verdict::facts);
    assertEquals(List.of(LikelyKind.CONSTANT), likely(verdict), verdict::facts);
    assertTrue(verdict.facts().contains("step turn1 has another bit 3"), verdict::facts);
    assertTrue(verdict.facts().contains("first wrong: dial_rotor.z2_q ("), verdict::facts);

    // No case agrees at the register behind the constant, so that it has to be told what it is.
    Bench.Builder bench =
        Bench.of(PlantedDesign.of(RTL.resolve("dial_rotor.sv"), folder, TURN, TURN_OFF))
            .contract(contract)
            .cases(20_000)
            .recorder(keeper());
    Stage wrong = firstWrong(bench.withStage("z2", "z2_q", 2).run());
    assertEquals("z2", wrong.step().name());
    assertEquals("dial_rotor.z2_q", wrong.signal());
    assertTrue(wrong.how().startsWith("as given; "), wrong::how);
    String refused =
        assertThrows(ContractException.class, () -> bench.withStage("z9", "z2_q").run())
            .getMessage();
    assertTrue(
        refused.startsWith("Stage \"z9\": reference \"rotation\" has no such step; "), refused);
    Bench.Builder other =
        Bench.of(CompiledDesign.of(RtlSource.of(RTL.resolve("dial_rotor.sv")))).contract(contract);
    refused =
        assertThrows(ContractException.class, () -> other.withStage("z2", "z2_r").run())
            .getMessage();
    assertTrue(
        refused.startsWith("Stage \"z2\": module dial_rotor has no signal \"z2_r\" inside; "),
        refused);
  }

  private static Stage firstWrong(Verdict verdict) {
    return verdict.findings().inside().stages().stream()
        .filter(stage -> stage.relation() == Stage.Relation.DIFFERS)
        .findFirst()
        .orElseThrow();
  }

  @Test
  void aQueue() {
    Reference passed =
        Reference.of(
            "first in, first out",
            List.of(unsigned("ticket", 12)),
            List.of(unsigned("ticket", 12)),
            (in, out) -> out[0] = in[0]);
    Contract contract =
        Contract.of(passed)
            .valid("in_valid", "out_valid")
            .ready("in_ready", "out_ready")
            .reset("rst")
            .latencyBetween(1, 1_000)
            .build();
    Verdict verdict = red("ticket_queue.sv", contract, "(write_q ^ read_q) != 4'b1000", "1'b1");
    KeptCase kept = smallest(verdict);
    long tickets =
        kept.cycles().stream().filter(row -> row.get(1) != null && row.get(1).signum() > 0).count();
    assertTrue(tickets <= 18, () -> "more tickets than places: " + tickets);
    assertEquals(List.of(LikelyKind.STALL), likely(verdict), verdict::facts);
  }

  private static Reference processor() {
    return Reference.stateful(
        "one register",
        List.of(unsigned("operation", 3), new Operand("number", Format.signed(12, 0))),
        List.of(new Operand("sum", Format.signed(16, 0))),
        () -> {
          long[] state = new long[2]; // the sum, whether the next one is skipped
          return (in, out) -> {
            boolean skipped = state[1] == 1;
            state[1] = in[0] == 4 && !skipped && state[0] < 0 ? 1 : 0;
            if (!skipped) {
              state[0] =
                  switch ((int) in[0]) {
                    case 0 -> in[1];
                    case 1 -> (short) (state[0] + in[1]);
                    case 2 -> (short) (state[0] - in[1]);
                    case 3 -> state[0] >> 1;
                    default -> state[0];
                  };
            }
            out[0] = state[0];
          };
        });
  }

  /** The same, step by step. */
  private static Datapath oneRegister() {
    Datapath.Builder b = Datapath.named("one register");
    Format word = Format.signed(16, 0);
    Value operation = b.input("operation", Format.unsigned(3, 0));
    Value number = b.input("number", Format.signed(12, 0));
    Value sum = b.register("held", word, 0);
    Value skips = b.register("skips", Format.bit(), 0);
    Value[] is = new Value[5];
    for (int code = 0; code < is.length; code++) {
      Value wanted = b.constant("code" + code, Format.unsigned(3, 0), code);
      is[code] = b.equal("is" + code, operation, wanted);
    }
    Value more =
        b.convert("more", b.add("added", sum, number), word, Rounding.FLOOR, Overflow.WRAP);
    Value less =
        b.convert("less", b.subtract("taken", sum, number), word, Rounding.FLOOR, Overflow.WRAP);
    Value half = b.convert("half", b.scale("halved", sum, -1), word, Rounding.FLOOR, Overflow.WRAP);
    Value done = b.select("halves", is[3], half, sum);
    done = b.select("subtracts", is[2], less, done);
    done = b.select("adds", is[1], more, done);
    done =
        b.select(
            "loads", is[0], b.convert("wide", number, word, Rounding.FLOOR, Overflow.WRAP), done);
    Value next = b.select("next", skips, sum, done);
    Value below = b.lessThan("below", sum, b.constant("nought", word, 0));
    Value may = b.and("may_skip", is[4], b.not("runs", skips));
    b.next(sum, next).next(skips, b.and("skip_next", may, below));
    return b.output("sum", next).build();
  }

  static Contract processing() {
    return Contract.of(processor().explainedBy(oneRegister()))
        .valid("in_valid", "out_valid")
        .reset("rst")
        .latency(1)
        .build();
  }

  @Test
  void aSmallProcessor() {
    Contract contract = processing();
    Verdict verdict =
        red("chime_processor.sv", contract, "&& !skips_q && sum_q < 16'sd0", "&& sum_q < 16'sd0");
    KeptCase kept = smallest(verdict);
    assertTrue(
        kept.cycles().size() <= 6, verdict::facts); // reset, a negative, skip twice, a change
    assertEquals(List.of(LikelyKind.DECISION), likely(verdict), verdict::facts);
    assertTrue(verdict.facts().contains("step runs is runs or skips"), verdict::facts);
  }

  static Contract sealing() {
    Reference seal =
        Reference.of(
            "CRC-32 of java.util.zip",
            List.of(unsigned("word", 32)),
            List.of(unsigned("seal", 32)),
            (in, out) -> {
              CRC32 crc = new CRC32();
              for (int octet = 0; octet < 4; octet++) {
                crc.update((int) (in[0] >> 8 * octet) & 0xFF);
              }
              out[0] = crc.getValue();
            });
    return Contract.of(seal).valid("in_valid", "out_valid").reset("rst").latency(4).build();
  }

  @Test
  void aHashCore() {
    Contract contract = sealing();
    Verdict verdict =
        red("seal_core.sv", contract, "word2_q <= word1_q[31:16];", "word2_q <= in_word[31:16];");
    assertTrue(smallest(verdict).cycles().size() <= 3, verdict::facts);
    assertEquals(List.of(LikelyKind.NEIGHBOUR), likely(verdict), verdict::facts);
    assertTrue(
        verdict.facts().contains("input word has bits 31 to 16 of 1 cycle later"), verdict::facts);
  }

  /** The same between clocks of its own, as a bench: what is lost waits for a consumer. */
  @Test
  void aQueueBetweenTwoClocks() {
    List<Operand> counts = List.of(unsigned("count", 12));
    Contract contract =
        Contract.of(
                Reference.of("first in, first out", counts, counts, (in, out) -> out[0] = in[0]))
            .input("count", "door_count")
            .output("count", "gallery_count")
            .valid("door_valid", "gallery_valid")
            .ready("door_ready", "gallery_ready")
            .latencyBetween(1, 1_000)
            .reset("door_rst")
            .alsoReset("gallery_rst")
            .resetCycles(4)
            .build();
    Path source = RTL.resolve("gallery_bridge.sv");
    DutOptions options =
        DutOptions.defaults().withClocking(Clocking.of("door_clk", 17).with("gallery_clk", 10, 3));
    Bench.of(CompiledDesign.of(RtlSource.of(source)))
        .contract(contract)
        .options(options)
        .cases(4_000)
        .check();
    Verdict verdict =
        Bench.of(
                PlantedDesign.of(
                    source, folder, "(read_seen_q ^ 4'b1100)", "(read_seen_q ^ 4'b1000)"))
            .contract(contract)
            .options(options)
            .cases(4_000)
            .recorder(keeper())
            .run();
    assertEquals(Outcome.MISMATCH, verdict.outcome(), verdict::facts);
    System.out.println(verdict.facts());
    assertTrue(verdict.kept().get(0).cycle() > 0, verdict::facts);
    assertEquals(List.of(LikelyKind.STALL), likely(verdict), verdict::facts);
  }

  /** Drives the queue between two clocks by hand; gives the first cycle that is wrong, or -1. */
  private static long wrongCycle(Dut dut) {
    Deque<Long> inside = new ArrayDeque<>();
    RandomStream chance = RandomStream.of(11);
    dut.set("door_rst", 1);
    dut.set("gallery_rst", 1);
    dut.cycles(4);
    dut.set("door_rst", 0);
    dut.set("gallery_rst", 0);
    for (int cycle = 0; cycle < 2_000; cycle++) {
      long count = chance.below(4_096);
      boolean offers = chance.below(4) > 0;
      boolean takes = cycle > 40 && chance.below(3) == 0;
      dut.set("door_valid", offers ? 1 : 0);
      dut.set("door_count", count);
      dut.set("gallery_ready", takes ? 1 : 0);
      dut.cycle();
      if (takes && dut.get("gallery_valid") == 1) {
        if (inside.isEmpty() || inside.remove() != dut.get("gallery_count")) {
          return dut.cyclesRun() - 1;
        }
      }
      if (offers && dut.get("door_ready") == 1) {
        inside.add(count);
      }
    }
    return -1;
  }

  /** Both clocks run alike here, so that a row is a cycle of either. */
  @Test
  void aQueueBetweenTwoClocksThatIsDrivenByHand() {
    DutOptions options =
        DutOptions.defaults().withClocking(Clocking.of("door_clk", 2).with("gallery_clk", 2, 0));
    Path source = RTL.resolve("gallery_bridge.sv");
    try (Dut right = CompiledDesign.of(RtlSource.of(source)).open(options)) {
      assertEquals(-1, wrongCycle(right));
    }
    CompiledDesign planted =
        PlantedDesign.of(source, folder, "(read_seen_q ^ 4'b1100)", "(read_seen_q ^ 4'b1000)");
    try (Dut wrong = planted.open(options)) {
      long cycle = wrongCycle(wrong);
      assertTrue(cycle > 0);
      Trace trace = Trace.fromStart(wrong, 10_000);
      assertEquals(cycle + 1, trace.rows().size(), "every row from the start");
      Watch inside = wrong.lookBack(cycle - 8, 9);
      assertEquals(9, inside.rows());
      assertTrue(inside.names().contains("gallery_bridge.read_seen_q"), inside.names()::toString);
    }
  }
}
