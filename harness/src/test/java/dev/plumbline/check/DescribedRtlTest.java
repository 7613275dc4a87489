package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.ContractException;
import dev.plumbline.contract.Reference;
import dev.plumbline.faults.FaultyCopies;
import dev.plumbline.models.datapath.BoundsGrowth;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.FloatFormat;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.stimulus.Generator;
import dev.plumbline.stimulus.Share;
import dev.plumbline.stimulus.Stimulus;
import dev.plumbline.verdict.Verdict;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Loops, floating point and registers, each described as a datapath from the header of RTL in
 * {@code src/test/rtl/described}, right and with faults planted in copies.
 */
@Execution(ExecutionMode.CONCURRENT)
class DescribedRtlTest {
  private static final List<String> RIGHT =
      List.of("  // This copy is right.\n", "  // Nothing is changed.\n");
  private static final int CASES = 20_000;

  enum Block {
    DIAL_ROTATOR(2),
    HALF_PRODUCT(2),
    CALM_POINTER(1);

    private final int latency;

    Block(int latency) {
      this.latency = latency;
    }

    Path rtl() {
      String file = name().toLowerCase(java.util.Locale.ROOT) + ".sv";
      return Path.of("src/test/rtl/described", file);
    }

    Datapath datapath() {
      return switch (this) {
        case DIAL_ROTATOR -> rotator();
        case HALF_PRODUCT -> product();
        case CALM_POINTER -> pointer();
      };
    }

    Contract contract(Reference reference) {
      return Contract.of(reference)
          .valid("in_valid", "out_valid")
          .reset("rst")
          .latency(latency)
          .build();
    }
  }

  private static Datapath rotator() {
    Format word = Format.signed(2, 14);
    Format left = Format.signed(2, 18);
    Datapath.Builder b = Datapath.named("dial_rotator");
    Value x = b.extend("x_0", b.input("x", word), 16);
    Value y = b.extend("y_0", b.input("y", word), 16);
    Value angle = b.extend("left_0", b.input("angle", Format.signed(1, 15)), 18);
    Value nought = b.constant("nought", left, 0);
    List<Value> end =
        b.unrolled(
            14,
            List.of(x, y, angle),
            (i, s) -> {
              Value by = b.constant("by_" + i, Format.unsigned(4, 0), i);
              double turn = Math.atan(Math.pow(2, -i)) * 2 / Math.PI;
              long code = Math.round(turn * (1 << 18));
              Value arc = b.constant("arc_" + i, left, code);
              Value back = b.lessThan("back_" + i, s.get(2), nought);
              Value dx = b.shiftRight("dx_" + i, s.get(1), by);
              Value dy = b.shiftRight("dy_" + i, s.get(0), by);
              String n = "_" + (i + 1);
              return List.of(
                  b.select(
                      "x" + n,
                      back,
                      b.add("xp" + n, s.get(0), dx),
                      b.subtract("xm" + n, s.get(0), dx)),
                  b.select(
                      "y" + n,
                      back,
                      b.subtract("ym" + n, s.get(1), dy),
                      b.add("yp" + n, s.get(1), dy)),
                  b.select(
                      "left" + n,
                      back,
                      b.add("lp" + n, s.get(2), arc),
                      b.subtract("lm" + n, s.get(2), arc)));
            });
    Format out = Format.signed(5, 16);
    return b.output("x", end.get(0), out).output("y", end.get(1), out).build();
  }

  private static Datapath product() {
    FloatFormat half = FloatFormat.binary16();
    Datapath.Builder b = Datapath.named("half_product");
    Value x = b.input("a", half.bits());
    Value y = b.input("b", half.bits());
    return b.output(b.floatMultiply("product", half, x, y)).build();
  }

  /** floor((7 y + target) / 8), which is y + floor((target - y) / 8), with the register once. */
  private static Datapath pointer() {
    Format format = Format.signed(3, 14);
    Datapath.Builder b = Datapath.named("calm_pointer");
    Value target = b.input("target", Format.signed(2, 10));
    Value pointer = b.register("y", format, 0);
    Value seven = b.multiply("seven", pointer, b.constant("c7", Format.unsigned(3, 0), 7));
    Value moved = b.scale("moved", b.add("sum", seven, target), -3);
    Value next = b.convert("pointer", moved, format, Rounding.FLOOR, Overflow.SATURATE);
    return b.next(pointer, next).output(next).build();
  }

  /** The same with the register twice, so that bounds count it twice. */
  private static Datapath pointerTwice() {
    Format format = Format.signed(3, 14);
    Datapath.Builder b = Datapath.named("calm_pointer");
    Value target = b.input("target", Format.signed(2, 10));
    Value pointer = b.register("y", format, 0);
    Value eighth = b.scale("eighth", b.subtract("gap", target, pointer), -3);
    Value share = b.convert("share", eighth, format, Rounding.FLOOR, Overflow.SATURATE);
    Value moved = b.add("moved", pointer, share);
    Value next = b.convert("pointer", moved, format, Rounding.FLOOR, Overflow.SATURATE);
    return b.next(pointer, next).output(next).build();
  }

  private static final Map<Block, FaultyCopies> COPIES = new EnumMap<>(Block.class);

  static {
    for (Block block : Block.values()) {
      FaultyCopies copies = new FaultyCopies(block.rtl()).add(RIGHT);
      faults()
          .filter(fault -> fault.get()[0] == block)
          .forEach(fault -> copies.add(texts(fault.get()[2])));
      COPIES.put(block, copies);
    }
  }

  private static List<String> texts(Object argument) {
    return ((List<?>) argument).stream().map(String.class::cast).toList();
  }

  private static Bench.Builder bench(Block block, List<String> texts, Reference reference) {
    Bench.Builder bench = COPIES.get(block).bench(texts).contract(block.contract(reference));
    if (block == Block.HALF_PRODUCT) {
      Generator corners = Generator.codes(FloatFormat.binary16().corners());
      bench.stimulus(
          Stimulus.each(Generator.mix(Share.of(1, corners), Share.of(3, Generator.uniform()))));
    }
    return bench.cases(CASES).resets(block == Block.CALM_POINTER ? 0.01 : 0).seed(3);
  }

  @ParameterizedTest
  @EnumSource
  @Tag("thorough")
  void theRightRtlIsWhatWasDescribed(Block block) {
    Verdict verdict = bench(block, RIGHT, Reference.exact(block.datapath())).check();
    assertTrue(verdict.cases() > CASES / 2, verdict::facts);
  }

  /** Bounds hold the right RTL too, and say something: they are narrow. */
  @ParameterizedTest
  @EnumSource
  @Tag("thorough")
  void theRightRtlIsWithinTheBounds(Block block) {
    Verdict verdict = bench(block, RIGHT, Reference.bounded(block.datapath())).check();
    long most =
        switch (block) {
          case DIAL_ROTATOR -> 60; // a rounding a pass, each longer by those after it
          case HALF_PRODUCT -> 511; // one code in all results but NaN, of which there are 512
          case CALM_POINTER -> 9; // 1 LSB a case, an eighth of it lost in each
        };
    assertTrue(verdict.bounds().get(0).worstWidth() <= most, verdict::facts);
  }

  static Stream<Arguments> faults() {
    return Stream.of(
        fault(Block.DIAL_ROTATOR, "zeros shifted in", "y + (x >>> i)", "y + (x >> i)"),
        fault(Block.DIAL_ROTATOR, "a pass left out", "Passes = 14", "Passes = 13"),
        fault(Block.DIAL_ROTATOR, "an arc 1 LSB off", "20'sd652", "20'sd653"),
        fault(Block.DIAL_ROTATOR, "nought turns back", "x_next = left < 0", "x_next = left <= 0"),
        fault(Block.HALF_PRODUCT, "halves go up", "half && (sticky || kept[0])", "half"),
        fault(Block.HALF_PRODUCT, "rounds toward zero", "half && (sticky || kept[0])", "1'b0"),
        fault(Block.HALF_PRODUCT, "subnormals not shifted", ">> places", ">> 0"),
        fault(
            Block.HALF_PRODUCT,
            "nought by infinity is infinity",
            " || (a_special && b_zero) || (a_zero && b_special)",
            ""),
        fault(Block.HALF_PRODUCT, "lost bits forgotten", "shifted[33:0] != '0", "1'b0"),
        fault(
            Block.CALM_POINTER, "outlives a reset", "if (rst) pointer_q <= '0;\n    else if", "if"),
        fault(
            Block.CALM_POINTER,
            "bubbles move it",
            "else if (in_valid) pointer_q",
            "else pointer_q"),
        fault(
            Block.CALM_POINTER,
            "rounds toward zero",
            "17'(gap >>> 3)",
            "17'((gap + (gap < 0 ? 19'sd7 : 19'sd0)) >>> 3)"),
        fault(Block.CALM_POINTER, "a quarter", "gap >>> 3", "gap >>> 2"));
  }

  private static Arguments fault(Block block, String name, String... texts) {
    return Arguments.of(block, name, Arrays.asList(texts));
  }

  @ParameterizedTest(name = "{0}, {1}")
  @MethodSource("faults")
  @Tag("thorough")
  void aPlantedFaultIsRed(Block block, String name, List<String> texts) {
    Verdict verdict =
        bench(block, texts, Reference.exact(block.datapath())).named(name).initialStates(0).run();
    assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome(), verdict::facts);
  }

  @Test
  void boundsThatHaveGrownOverTheWholeFormatAreNoReference() {
    assertTrue(BoundsGrowth.of(pointer(), 1000, 1).get(0).isSettled());
    assertFalse(BoundsGrowth.of(pointerTwice(), 1000, 1).get(0).isSettled());
    bench(Block.CALM_POINTER, RIGHT, Reference.exact(pointerTwice())).check();
    Bench.Builder bench = bench(Block.CALM_POINTER, RIGHT, Reference.bounded(pointerTwice()));
    String message = assertThrows(ContractException.class, bench.resets(0)::run).getMessage();
    assertTrue(message.contains("bounds of register \"y\""), message);
  }
}
