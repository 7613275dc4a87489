package dev.plumbline.check;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.FloatFormat;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.stimulus.Generator;
import dev.plumbline.stimulus.Share;
import dev.plumbline.stimulus.Stimulus;
import java.nio.ByteBuffer;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.List;
import java.util.function.UnaryOperator;

/**
 * Designs of other trades than tracing rays, each by another hand, with what it is held to and
 * faults that a person might make.
 *
 * <p>References are the JDK's (division, CRC-32, SHA-256, counting of zeros), the equations of the
 * thing itself, or IEEE 754-2019.
 */
enum Trades {
  DIVIDER(
      "flow/ratio_unit.v",
      FlowBenchTest.Block.RATIO_BUSY::on,
      List.of("sh >= {", "sh > {"),
      List.of("den == 8'd0", "1'b0")),
  ROTATION_BY_ITERATIONS(
      "styles/dial_rotor.sv",
      bench -> bench.contract(DesignStylesTest.turning()),
      List.of("Turn1 = 14'sd1899", "Turn1 = 14'sd1898"),
      List.of("x2_q - (y2_q >>> 2)", "x2_q - (y2_q >> 2)")),
  QUEUE(
      "flow/late_shelf.v",
      FlowBenchTest.Block.SHELF::on,
      List.of("{~rp[3], rp[2:0]}", "~rp"),
      List.of("<= mem[rp[2:0]]", "<= mem[rp[2:0] + 3'd1]")),
  QUEUE_BETWEEN_CLOCKS(
      "flow/room_queue.v",
      bench -> bench.contract(SeveralClocksBenchTest.contract().build()),
      List.of("gp1 <= pgray;", "gp1 <= pbin;"),
      List.of("get & ~gempty;", "get;")),
  PROCESSOR(
      "styles/chime_processor.sv",
      bench -> bench.contract(DesignStylesTest.processing()),
      List.of("&& !skips_q && sum_q < 16'sd0", "&& sum_q < 16'sd0"),
      List.of("sum_q >>> 1", "sum_q >> 1")),
  CYCLIC_CHECK(
      "styles/seal_core.sv",
      bench -> bench.contract(DesignStylesTest.sealing()),
      List.of("word2_q <= word1_q[31:16];", "word2_q <= in_word[31:16];"),
      List.of("bits < 8", "bits < 7")),
  WIDTH_ADAPTER(
      "flow/label_packer.v",
      FlowBenchTest.Block.LABEL::on,
      List.of("? 4'h3", "? 4'h7"),
      List.of("~o_v | o_r", "1'b1")),
  HASH(
      "trades/page_seal.v",
      Trades::seal,
      List.of("(x >> n) | (x << (6'd32 - {1'b0, n}))", "x >> n"),
      List.of("191'd0, 64'd256", "191'd0, 64'd255"),
      List.of("ROUND_R == 6'd63", "ROUND_R == 6'd62")),
  FLOATING_SUM(
      "trades/half_sum.v",
      Trades::sum,
      List.of("m[2] && (m[3] || m[1:0] != 2'd0)", "m[2]"),
      List.of("shifted[0] | lost", "shifted[0]"),
      List.of("(minus && big[14:0] == less[14:0]) ? 1'b0 : big[15]", "big[15]"),
      List.of("({1'b0, zeros} < e_q) ? zeros : e_q[3:0] - 4'd1", "zeros")),
  BARREL(
      "trades/level_shift.v",
      Trades::level,
      List.of("ring2_s << 2", "ring2_s << 1"),
      List.of("empty_o ? width_g[4:0] : count_s", "count_s"),
      List.of("level4_s[width_g-1:width_g-8] == 8'd0", "level4_s[width_g-1:width_g-7] == 7'd0")),
  FILTER(
      "trades/tide_fir.v",
      Trades::filter,
      List.of("acc_r[6] <= acc_r[7] - x7_s", "acc_r[6] <= acc_r[7] + x7_s"),
      List.of("acc_r[k] <= 20'sd0", "acc_r[k] <= acc_r[k]"),
      List.of("over_s > 13'sd2047", "over_s > 13'sd2500")),
  ARBITER(
      "trades/turnstile.v",
      Trades::gates,
      List.of("(one << 1) - 5'd1", "one - 5'd1"),
      List.of("? soon : ask", "? soon : 5'd0"),
      List.of("if (one != 5'd0) begin", "if (soon != 5'd0) begin"));

  private static final String END = "endmodule";

  /** The design as it stands. */
  static final List<String> RIGHT = List.of(END, END + " // right");

  private final String file;
  private final UnaryOperator<Bench.Builder> held;
  private final List<List<String>> faults;

  @SafeVarargs
  @SuppressWarnings("varargs") // the array goes into a list of its own
  Trades(String file, UnaryOperator<Bench.Builder> held, List<String>... faults) {
    this.file = file;
    this.held = held;
    this.faults = List.of(faults);
  }

  Path rtl() {
    return Path.of("src/test/rtl", file);
  }

  List<List<String>> faults() {
    return faults;
  }

  /** Joins a bench on a copy of the design to what it is held to. */
  Bench.Builder on(Bench.Builder bench) {
    return held.apply(bench).cases(this == HASH ? 400 : 4_000);
  }

  private static Operand unsigned(String name, int bits) {
    return new Operand(name, Format.unsigned(bits, 0));
  }

  private static MessageDigest sha256() {
    try {
      return MessageDigest.getInstance("SHA-256");
    } catch (NoSuchAlgorithmException e) {
      throw new AssertionError("every JDK has SHA-256", e);
    }
  }

  /** Eight words of a page, the first in the highest bits, and eight of its seal. */
  private static Bench.Builder seal(Bench.Builder bench) {
    List<Operand> page = new ArrayList<>();
    List<Operand> seal = new ArrayList<>();
    for (int word = 0; word < 8; word++) {
      page.add(unsigned("page" + word, 32));
      seal.add(unsigned("seal" + word, 32));
    }
    Reference hash =
        Reference.of(
            "SHA-256 of java.security",
            page,
            seal,
            (in, out) -> {
              ByteBuffer bytes = ByteBuffer.allocate(32);
              for (int word = 0; word < 8; word++) {
                bytes.putInt((int) in[word]);
              }
              ByteBuffer digest = ByteBuffer.wrap(sha256().digest(bytes.array()));
              for (int word = 0; word < 8; word++) {
                out[word] = digest.getInt() & 0xFFFFFFFFL;
              }
            });
    Contract.Builder contract =
        Contract.of(hash)
            .valid("PAGE_STB_I", "SEAL_STB_O")
            .ready("PAGE_RDY_O", "SEAL_RDY_I")
            .resetLow("ARST_N_I")
            .latency(65);
    for (int word = 0; word < 8; word++) {
      String bits = "[" + (255 - 32 * word) + ":" + (224 - 32 * word) + "]";
      contract.input("page" + word, "PAGE_I" + bits).output("seal" + word, "SEAL_O" + bits);
    }
    return bench.contract(contract.build());
  }

  private static Bench.Builder sum(Bench.Builder bench) {
    FloatFormat half = FloatFormat.binary16();
    Datapath.Builder b = Datapath.named("half_sum");
    Value left = b.input("left_in", half.bits());
    Value right = b.input("right_in", half.bits());
    b.output("sum_out", b.floatAdd("sum", half, left, right));
    Generator near =
        Generator.drawn(stream -> 0x3C00 + stream.below(0x400) + 0x8000 * stream.below(2));
    return bench
        .contract(Contract.of(Reference.exact(b.build())).latency(2).build())
        .stimulus(
            Stimulus.each(
                Generator.mix(
                    Share.of(1, Generator.codes(half.corners())),
                    Share.of(2, near),
                    Share.of(3, Generator.uniform()))));
  }

  private static Bench.Builder level(Bench.Builder bench) {
    Reference level =
        Reference.of(
            "level",
            List.of(unsigned("word_i", 24), unsigned("turn_i", 5)),
            List.of(
                unsigned("turned_o", 24),
                unsigned("level_o", 24),
                unsigned("places_o", 5),
                unsigned("empty_o", 1)),
            (in, out) -> {
              long twice = in[0] << 24 | in[0];
              out[0] = (twice << in[1] >>> 24) & 0xFFFFFF;
              out[2] = Long.numberOfLeadingZeros(in[0]) - 40;
              out[1] = in[0] << out[2] & 0xFFFFFF;
              out[3] = in[0] == 0 ? 1 : 0;
            });
    return bench
        .contract(Contract.of(level).assumeBetween("turn_i", 0, 23).build())
        .stimulus(
            Stimulus.standard()
                .with("word_i", Generator.drawn(s -> s.next() >>> 40 >>> s.below(25))));
  }

  /** The sum over the last eight samples, in the order in which textbooks write it. */
  private static Bench.Builder filter(Bench.Builder bench) {
    int[] weights = {3, -7, 18, 61, 61, 18, -7, 3};
    Format sample = Format.signed(12, 0);
    Datapath.Builder b = Datapath.named("tide");
    Value tap = b.input("height", sample);
    Value sum = null;
    for (int k = 0; k < weights.length; k++) {
      tap = k == 0 ? tap : b.delay("before_" + k, tap, 0);
      Value weight = b.constant("weight_" + k, Format.signed(8, 0), weights[k]);
      Value part = b.multiply("part_" + k, tap, weight);
      sum = k == 0 ? part : b.add("sum_" + k, sum, part);
    }
    Value smooth = b.scale("smooth", sum, -7);
    b.output("smooth_o", b.convert("rounded", smooth, sample, Rounding.FLOOR, Overflow.SATURATE));
    return bench
        .contract(
            Contract.of(Reference.exact(b.build()))
                .input("height", "height_i")
                .valid("ce_i", "vld_o")
                .resetLow("rst_ni")
                .latency(1)
                .build())
        .stimulus(
            Stimulus.standard()
                .with(
                    "height",
                    Generator.mix(
                        Share.of(1, Generator.codes(-2048, 2047)),
                        Share.of(1, Generator.uniform()))));
  }

  private static Bench.Builder gates(Bench.Builder bench) {
    Reference gates =
        Reference.stateful(
            "in turn",
            List.of(unsigned("ask", 5)),
            List.of(unsigned("pass", 5), unsigned("gate", 3)),
            () -> {
              long[] last = {4, 0}; // the gate before the first, what is shown
              return (in, out) -> {
                for (int k = 1; k <= 5; k++) {
                  int gate = (int) (last[0] + k) % 5;
                  if ((in[0] >> gate & 1) == 1) {
                    last[0] = gate;
                    last[1] = gate;
                    out[0] = 1L << gate;
                    break;
                  }
                }
                out[1] = last[1];
              };
            });
    return bench.contract(
        Contract.of(gates).valid("tick", "told").resetLow("clr_n").latency(1).build());
  }
}
