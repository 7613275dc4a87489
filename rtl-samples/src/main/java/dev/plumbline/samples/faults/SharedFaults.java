package dev.plumbline.samples.faults;

import static dev.plumbline.faults.Fault.Kind.LATENCY;
import static dev.plumbline.faults.Fault.Kind.ROUNDING;
import static dev.plumbline.faults.Fault.Kind.SATURATION;
import static dev.plumbline.faults.Fault.Kind.SIGN;
import static dev.plumbline.faults.Fault.Kind.WIDTH;
import static dev.plumbline.faults.Fault.Shows.ANY_STREAM;
import static dev.plumbline.faults.Fault.Shows.BACK_TO_BACK;

import dev.plumbline.faults.Fault;
import java.util.List;
import java.util.stream.Stream;

/** Faults of what several units share, each observed in one that uses it. */
final class SharedFaults {
  private SharedFaults() {}

  /** Every fault. */
  static List<Fault> all() {
    return Stream.of(DELAYS, ROUNDINGS, PRODUCTS).flatMap(List::stream).toList();
  }

  private static final List<Fault> DELAYS =
      new FaultsOf("reciprocal", "s16.16 exact", "delay_line.sv")
          .fault(
              "long-delay-one-short",
              LATENCY,
              BACK_TO_BACK,
              "A delay of more than 16 clocks is one short: sign and zero of the next case.",
              "assign out_value = delayed[DEPTH].value_q;",
              "assign out_value = delayed[DEPTH-(DEPTH > 16 ? 1 : 0)].value_q;")
          .and("k <= DEPTH; k++", "k <= DEPTH - (DEPTH > 16 ? 1 : 0); k++")
          .in("orrery_pkg.svh")
          .fault(
              "leading-zeros-lost",
              WIDTH,
              ANY_STREAM,
              "Two leading zeros count for none where a third follows.",
              "if (rest[31:30] == 2'd0) begin",
              "if (rest[31:29] == 3'd1) begin")
          .all();

  private static final List<Fault> ROUNDINGS =
      new FaultsOf("plane_pipeline", "s16.16 exact", "round_saturate.sv")
          .fault(
              "halves-to-even",
              ROUNDING,
              ANY_STREAM,
              "A value exactly between two codes goes to the even one.",
              "RoundedW'((SumW'(in_value) + Half) >>> DROP);",
              "RoundedW'((SumW'(in_value) + Half - $signed(SumW'(DROP != 0 && !in_value[DROP])))"
                  + " >>> DROP);")
          .fault(
              "halves-away-from-zero",
              ROUNDING,
              ANY_STREAM,
              "A negative value exactly between two codes is rounded down.",
              "RoundedW'((SumW'(in_value) + Half) >>> DROP);",
              "RoundedW'((SumW'(in_value) + Half - $signed(SumW'(DROP != 0 && in_value[IN_W-1])))"
                  + " >>> DROP);")
          .fault(
              "saturation-test-a-bit-off",
              SATURATION,
              ANY_STREAM,
              "A value up to twice beyond the format wraps.",
              "rounded[RoundedW-1:OUT_W-1] == {(RoundedW - OUT_W + 1) {negative}};",
              "rounded[RoundedW-1:OUT_W] == {(RoundedW - OUT_W) {negative}};")
          .in("delay_line.sv")
          .fault(
              "wide-delay-loses-a-bit",
              WIDTH,
              ANY_STREAM,
              "A delay of more than 32 bits loses the highest.",
              "value_q <= in_value;",
              "value_q <= in_value & ~(WIDTH'(WIDTH > 32) << (WIDTH - 1));")
          .in("dot_product.sv")
          .fault(
              "z-taken-away",
              SIGN,
              ANY_STREAM,
              "The product along z is taken away instead of added.",
              "DotW'(product_y_s2_q) + DotW'(product_z_s2_q);",
              "DotW'(product_y_s2_q) - DotW'(product_z_s2_q);")
          .in("split_multiply.sv")
          .fault(
              "partial-carry-dropped",
              WIDTH,
              ANY_STREAM,
              "Two digits of the most negative code each give a negative product.",
              "PartialW = DigitsW < SumW ? DigitsW : SumW;",
              "PartialW = (DigitsW < SumW ? DigitsW : SumW) - 1;")
          .all();

  private static final List<Fault> PRODUCTS =
      new FaultsOf("sphere_pipeline", "s16.16 exact", "split_multiply.sv")
          .fault(
              "third-digit-of-b-unsigned",
              SIGN,
              ANY_STREAM,
              "A second operand of three digits loses its sign: the perpendicular's, squared.",
              "assign digit_b = extended_b[ExtendedB-1-:DigitB+1];",
              "assign digit_b = extended_b[ExtendedB-1-:DigitB+1] & ~((DigitB + 1)'(DigitsB == 3)"
                  + " << DigitB);")
          .fault(
              "highest-partial-misplaced",
              WIDTH,
              ANY_STREAM,
              "The highest of nine partial products stands one place too low.",
              "<<< (IndexA * DigitA + IndexB * DigitB);",
              "<<< (IndexA * DigitA + IndexB * DigitB - (IndexA + IndexB == 4 ? 1 : 0));")
          .all();
}
