package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.junit.DesignUnderTest;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Verdict;
import java.math.BigInteger;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** Ports of several words, parts of packed ports, and a design without a clock. */
@DesignUnderTest(sources = "src/test/rtl/checked/dial.sv", top = "dial")
@Execution(ExecutionMode.CONCURRENT)
class DialRtlTest {
  private static final Reference REFERENCE =
      Reference.of(
          "dial",
          List.of(
              new Operand("count", Format.signed(100, 0)),
              new Operand("raw", Format.unsigned(64, 0)),
              new Operand("move", Format.signed(24, 0)),
              new Operand("fraction", Format.unsigned(0, 40))),
          List.of(
              new Operand("count", Format.signed(101, 0)),
              new Operand("raw", Format.unsigned(64, 0)),
              new Operand("move", Format.signed(24, 0)),
              new Operand("fraction", Format.unsigned(0, 40))),
          (in, out) -> {
            long low = in[0] + in[3];
            long carry = Long.compareUnsigned(low, in[0]) < 0 ? 1 : 0;
            out[0] = low;
            out[1] = in[1] + (in[3] >> 63) + carry;
            out[2] = in[2] + 1;
            out[3] = in[3];
            out[4] = ~in[4];
          });

  @TempDir private Path folder;

  private static Contract contract() {
    return Contract.of(REFERENCE)
        .input("move", "in_bus[63:40]")
        .input("fraction", "in_bus[39:0]")
        .output("move", "out_bus[23:0]")
        .output("fraction", "out_bus[63:24]")
        .build();
  }

  @Test
  void wideAndPackedPortsHoldToTheirReference(Bench.Builder bench) {
    Verdict verdict = bench.contract(contract()).cases(100_000).check();

    assertEquals(100_000, verdict.cases(), "without a clock each evaluation is a case");
    assertEquals(4, verdict.bounds().size());
  }

  @Test
  @Tag("thorough")
  void aCarryLostBetweenWordsIsCaughtWithAllItsDigits() throws Exception {
    CompiledDesign model =
        PlantedDesign.of(
            Path.of("src/test/rtl/checked/dial.sv"),
            folder,
            "assign out_count = 101'(in_count) + 101'(step);",
            "logic [63:0] low; assign low = in_count[63:0] + 64'(step);\n"
                + "  assign out_count = {{1{in_count[99]}}, in_count[99:64] + {36{step[23]}},"
                + " low};");
    Verdict verdict = Bench.of(model).contract(contract()).cases(100_000).run();

    Mismatch mismatch = verdict.first().orElseThrow();
    assertEquals("out_count", mismatch.signal());
    assertEquals(BigInteger.ONE.shiftLeft(64), mismatch.difference().abs());
    assertTrue(
        verdict.facts().lines().anyMatch("  difference -18446744073709551616"::equals),
        verdict::facts);
  }

  @Test
  @Tag("thorough")
  void aFaultInAPartOfAPortIsNamedByThatPart() throws Exception {
    CompiledDesign model =
        PlantedDesign.of(
            Path.of("src/test/rtl/checked/dial.sv"),
            folder,
            "{~in_bus[39:0], in_bus[63:40]}",
            "{~in_bus[39:0], in_bus[63:41], in_bus[40] ^ (&in_bus[39:36])}");
    Verdict verdict = Bench.of(model).contract(contract()).cases(10_000).run();

    assertEquals("out_bus[23:0]", verdict.first().orElseThrow().signal());
  }
}
