package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.faults.FaultyCopies;
import dev.plumbline.junit.DesignUnderTest;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.verdict.Mismatch.Kind;
import dev.plumbline.verdict.Verdict;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/** The gear train as RTL, right and with faults planted in copies. */
@DesignUnderTest(sources = "src/test/rtl/checked/gear_train.sv", top = "gear_train")
@Execution(ExecutionMode.CONCURRENT)
class GearTrainRtlTest {
  private static final Path RTL = Path.of("src/test/rtl/checked/gear_train.sv");

  private static final FaultyCopies COPIES = FaultyCopies.of(RTL, faults(), 2);

  static Datapath datapath() {
    Datapath.Builder b = Datapath.named("gear train");
    Value turns = b.input("turns", Format.signed(8, 8));
    Value teeth = b.input("teeth", Format.unsigned(8, 0));
    Value offset = b.input("offset", Format.signed(16, 8));
    Value product = b.multiply("product", turns, teeth);
    Value sum = b.add("sum", product, offset);
    Value zero = b.constant("zero", Format.signed(2, 0), 0);
    b.output("angle", sum, Format.signed(18, 8));
    b.output("forward", b.lessThan("forward", zero, sum));
    return b.build();
  }

  private static Contract.Builder contract() {
    return Contract.of(Reference.exact(datapath()))
        .valid("in_valid", "out_valid")
        .reset("rst")
        .latency(3);
  }

  @Test
  void holdsToTheExactReference(Bench.Builder bench) {
    Verdict verdict = bench.contract(contract().build()).cases(200_000).check();

    assertTrue(verdict.cases() > 199_000, verdict::facts);
  }

  @Test
  void holdsToTheBounds(Bench.Builder bench) {
    Contract bounded =
        Contract.of(Reference.bounded(datapath()))
            .valid("in_valid", "out_valid")
            .reset("rst")
            .latency(3)
            .build();
    Verdict verdict = bench.contract(bounded).cases(70_000).check();

    assertEquals(0, verdict.bounds().get(0).worstWidth(), "nothing rounds here");
  }

  static Stream<Arguments> faults() {
    return Stream.of(
        fault(
            "sum one too large",
            Kind.VALUE_WRONG,
            "26'(product_s2_q) + 26'(offset_s2_q)",
            "26'(product_s2_q) + 26'(offset_s2_q) + 26'd1"),
        fault(
            "sign extension of teeth",
            Kind.VALUE_WRONG,
            "{1'b0, in_teeth}",
            "{in_teeth[7], in_teeth}"),
        fault(
            "highest bit of the product dropped",
            Kind.VALUE_WRONG,
            "product_s2_q <= 25'(turns_s1_q) * 25'(teeth_s1_q)",
            "product_s2_q <= 25'($signed(23'(25'(turns_s1_q) * 25'(teeth_s1_q))))"),
        fault(
            "offset from the cycle before",
            Kind.VALUE_WRONG,
            "offset_s2_q  <= offset_s1_q",
            "offset_s2_q  <= in_offset"),
        fault("flag at zero", Kind.VALUE_WRONG, "angle_s3_q > 0", "angle_s3_q >= 0"),
        fault("valid a cycle late", Kind.VALID_MISSING, "Latency = 3", "Latency = 4"),
        fault(
            "everything a cycle late",
            Kind.LATE,
            "Latency = 3",
            "Latency = 4",
            "  assign out_angle   = angle_s3_q;\n  assign out_forward = angle_s3_q > 0;",
            "  logic signed [25:0] late_q;\n  always_ff @(posedge clk) late_q <= angle_s3_q;\n"
                + "  assign out_angle = late_q;\n  assign out_forward = late_q > 0;"),
        fault(
            "everything a cycle early",
            Kind.EARLY,
            "Latency = 3",
            "Latency = 2",
            "always_ff @(posedge clk) begin\n    angle_s3_q <=",
            "always_comb begin\n    angle_s3_q ="),
        fault(
            "valid lost after two bubbles",
            Kind.VALID_MISSING,
            "in_valid}",
            "in_valid && valid_q != 3'b100}"),
        fault(
            "reset misses the last stage",
            Kind.VALID_WITHOUT_CASE,
            "valid_q <= '0",
            "valid_q <= {valid_q[1], 2'b00}"),
        fault(
            "valid held under reset",
            Kind.VALID_WITHOUT_CASE,
            "  assign out_valid   = valid_q[Latency-1];",
            "  logic held_q;\n  always_ff @(posedge clk) held_q <= out_valid && rst;\n"
                + "  assign out_valid = valid_q[Latency-1] || (held_q && rst);"),
        fault(
            "a sum that is not reset",
            Kind.INITIAL_STATE_SHOWS,
            "  assign out_angle   = angle_s3_q;",
            "  logic [2:0] drift_q;\n  always_ff @(posedge clk) drift_q <= drift_q;\n"
                + "  assign out_angle = angle_s3_q + 26'(drift_q);"),
        fault(
            "neighbours swapped",
            Kind.ORDER_SWAPPED,
            "  assign out_angle   = angle_s3_q;\n  assign out_forward = angle_s3_q > 0;",
            """
              logic swapped_q;
              logic signed [25:0] before_q, next;
              logic swap;
              assign next = 26'(product_s2_q) + 26'(offset_s2_q);
              assign swap = !swapped_q && &valid_q[2:1] && angle_s3_q[3:0] == 4'd5;
              always_ff @(posedge clk) begin
                swapped_q <= swap && !rst;
                before_q  <= angle_s3_q;
              end
              assign out_angle   = swap ? next : swapped_q ? before_q : angle_s3_q;
              assign out_forward = out_angle > 0;
            """));
  }

  private static Arguments fault(String name, Kind kind, String... replacements) {
    return Arguments.of(name, kind, Arrays.asList(replacements));
  }

  @ParameterizedTest(name = "{0}: {1}")
  @MethodSource("faults")
  void aPlantedFaultIsCaughtAndCalledByItsName(String name, Kind kind, List<String> replacements) {
    Verdict verdict =
        COPIES.bench(replacements).named(name).contract(contract().build()).cases(50_000).run();

    assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome(), verdict::facts);
    assertEquals(kind, verdict.kept().get(0).kind(), verdict::facts);
  }
}
