package dev.plumbline.samples.speed;

import dev.plumbline.check.Bench;
import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.stimulus.Generator;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.stimulus.Stimulus;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/**
 * What state costs a bench: a hand that follows the sum of the last four angles, whose past is held
 * in registers, beside the same arithmetic where the past comes as operands. Rates are cases a
 * second of processor time, one thread.
 */
final class StatefulRates {
  private static final long CASES = 4_000_000;
  private static final Format ANGLE = Format.signed(12, 0);
  private static final Format HAND = Format.signed(16, 0);
  private static final String NEXT =
      "(19'(7 * 19'(hand)) + 19'(angle) + 19'(t1) + 19'(t2) + 19'(t3)) >>> 3";
  private static final String GIVEN =
      """
      module hand_given (
          input logic clk, input logic rst, input logic in_valid,
          input logic signed [11:0] angle, t1, t2, t3, input logic signed [15:0] hand,
          output logic out_valid, output logic signed [15:0] next
      );
        always_ff @(posedge clk) begin
          out_valid <= in_valid && !rst;
          next <= 16'(%s);
        end
      endmodule
      """;
  private static final String HELD =
      """
      module hand_held (
          input logic clk, input logic rst, input logic in_valid,
          input logic signed [11:0] angle,
          output logic out_valid, output logic signed [15:0] next
      );
        logic signed [11:0] t1, t2, t3;
        logic signed [15:0] hand;
        assign hand = next;
        always_ff @(posedge clk) begin
          out_valid <= in_valid && !rst;
          if (rst) {t1, t2, t3, next} <= '0;
          else if (in_valid) begin
            {t1, t2, t3} <= {angle, t1, t2};
            next <= 16'(%s);
          end
        end
      endmodule
      """;

  private final Speeds speeds;
  private final Path folder;
  private final int repetitions;

  StatefulRates(Speeds speeds, Path folder, int repetitions) {
    this.speeds = speeds;
    this.folder = folder;
    this.repetitions = repetitions;
  }

  /** All in turn, so that what else the machine does falls on each. */
  void measure() throws IOException {
    CompiledDesign given = model("hand_given", GIVEN);
    CompiledDesign held = model("hand_held", HELD);
    List<Reference> references =
        List.of(Reference.exact(plain()), Reference.exact(registers()), byHand());
    List<Sample> samples = List.of(new Sample(), new Sample(), new Sample());
    for (int i = -1; i < repetitions; i++) {
      for (int k = 0; k < references.size(); k++) {
        double rate = rate(k == 0 ? given : held, references.get(k));
        if (i >= 0) { // the first warms
          samples.get(k).add(rate);
        }
      }
    }
    double base = samples.get(0).median();
    String unit = "cases/cpu s";
    speeds.add(
        "stateful", "without state: the past comes as operands", samples.get(0), unit, 1, "");
    add("a datapath with registers", samples.get(1), base);
    add("a model in Java, case by case", samples.get(2), base);
  }

  private void add(String what, Sample sample, double base) {
    speeds.add("stateful", what, sample, "cases/cpu s", sample.median() / base, "");
  }

  private CompiledDesign model(String name, String text) throws IOException {
    Path file = folder.resolve(name + ".sv");
    Files.writeString(file, text.replace("%s", NEXT));
    return CompiledDesign.of(RtlSource.of(file));
  }

  private static double rate(CompiledDesign model, Reference reference) {
    long start = RayBenchSpeeds.processorTime();
    Bench.of(model)
        .contract(
            Contract.of(reference).valid("in_valid", "out_valid").reset("rst").latency(1).build())
        .stimulus(Stimulus.each(Generator.uniform()))
        .pacing(Pacing.backToBack())
        .initialStates(0)
        .resets(0)
        .threads(1)
        .cases(CASES)
        .check();
    return CASES / ((RayBenchSpeeds.processorTime() - start) / 1e9);
  }

  private static Value next(
      Datapath.Builder b, Value angle, Value t1, Value t2, Value t3, Value hand) {
    Value seven = b.multiply("seven", hand, b.constant("c7", Format.unsigned(3, 0), 7));
    Value recent = b.add("recent", b.add("two", angle, t1), b.add("earlier", t2, t3));
    Value sum = b.scale("eighth", b.add("sum", seven, recent), -3);
    return b.convert("turned", sum, HAND, Rounding.FLOOR, Overflow.SATURATE);
  }

  private static Datapath plain() {
    Datapath.Builder b = Datapath.named("hand given");
    Value angle = b.input("angle", ANGLE);
    Value t1 = b.input("t1", ANGLE);
    Value t2 = b.input("t2", ANGLE);
    Value t3 = b.input("t3", ANGLE);
    return b.output("next", next(b, angle, t1, t2, t3, b.input("hand", HAND))).build();
  }

  private static Datapath registers() {
    Datapath.Builder b = Datapath.named("hand held");
    Value angle = b.input("angle", ANGLE);
    Value t1 = b.delay("t1", angle, 0);
    Value t2 = b.delay("t2", t1, 0);
    Value t3 = b.delay("t3", t2, 0);
    Value hand = b.register("hand", HAND, 0);
    Value next = next(b, angle, t1, t2, t3, hand);
    return b.next(hand, next).output("next", next).build();
  }

  private static Reference byHand() {
    return Reference.stateful(
        "hand in Java",
        List.of(new Operand("angle", ANGLE)),
        List.of(new Operand("next", HAND)),
        () -> {
          long[] past = new long[4]; // three angles, the hand
          return (in, out) -> {
            out[0] = (7 * past[3] + in[0] + past[0] + past[1] + past[2]) >> 3;
            past[2] = past[1];
            past[1] = past[0];
            past[0] = in[0];
            past[3] = out[0];
          };
        });
  }
}
