package dev.plumbline.check;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.drive.Engine;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Verdict;
import java.util.List;
import java.util.Set;

/** Verdicts for the tests of what is made of them. */
public final class VerdictSamples {
  private VerdictSamples() {}

  /** A pass of a few cases. */
  public static Verdict pass(String name) {
    return GearTrain.bench(GearTrain.Fault.NONE).named(name).cases(500).run();
  }

  /** A pass of a few cases, with a tolerance on the angle. */
  public static Verdict withTolerance(String name, long lsbs) {
    return GearTrain.bench(GearTrain.Fault.NONE)
        .named(name)
        .contract(GearTrain.contract().tolerance("angle", lsbs).build())
        .cases(500)
        .run();
  }

  /** Nothing compared. */
  public static Verdict nothingChecked(String name) {
    return GearTrain.bench(GearTrain.Fault.NONE).named(name).cases(0).run();
  }

  /** A sum that is one too large where teeth are 99. */
  public static Verdict wrongValue() {
    return GearTrain.bench(GearTrain.Fault.ONE_TOO_MUCH_WHERE_TEETH_ARE_99).run();
  }

  /** What an angle follows from in place of the sum. */
  @FunctionalInterface
  public interface Angle {
    /** The angle's code. */
    long of(long[] in, long sum);
  }

  /** A right design, held with a tolerance to another reference. */
  public static Verdict withReference(Angle angle, String output, long lsbs) {
    Reference other =
        Reference.of(
            "other gear train",
            GearTrain.REFERENCE.inputs(),
            GearTrain.REFERENCE.outputs(),
            (in, out) -> {
              long sum = in[0] * in[1] + in[2];
              out[0] = angle.of(in, sum);
              out[1] = sum > 0 ? 1 : 0;
            });
    return GearTrain.bench(GearTrain.Fault.NONE)
        .contract(
            Contract.of(other)
                .valid("in_valid", "out_valid")
                .reset("rst")
                .latency(3)
                .tolerance(output, lsbs)
                .build())
        .run();
  }

  /** The same with another name, seed and command. */
  public static Verdict wrongValue(String name, long seed, String command) {
    return GearTrain.bench(GearTrain.Fault.ONE_TOO_MUCH_WHERE_TEETH_ARE_99)
        .named(name)
        .seed(seed)
        .repeat(command)
        .run();
  }

  /** The same, kept by a recorder. */
  public static Verdict wrongValueTo(Recorder recorder, String name) {
    return GearTrain.bench(GearTrain.Fault.ONE_TOO_MUCH_WHERE_TEETH_ARE_99)
        .named(name)
        .recorder(recorder)
        .run();
  }

  /** A pass, kept by a recorder. */
  public static Verdict passTo(Recorder recorder, String name) {
    return GearTrain.bench(GearTrain.Fault.NONE).named(name).cases(500).recorder(recorder).run();
  }

  /** A DUT that ends by itself: its verdict is kept, then what it threw is thrown. */
  public static Verdict endedTo(Recorder recorder, String name) {
    Engine.Maker broken =
        opening -> {
          throw new IllegalStateException("the spring broke");
        };
    return new Bench.Builder(GearTrain.DESIGN, broken, "0123abcd")
        .contract(GearTrain.contract().build())
        .named(name)
        .recorder(recorder)
        .run();
  }

  /** Signed and unsigned codes of 64 bits, wrong in the last of them. */
  public static Verdict wideCodes() {
    Operand count = new Operand("count", Format.signed(32, 32));
    Operand raw = new Operand("raw", Format.unsigned(64, 0));
    Reference reference =
        Reference.of(
            "counter",
            List.of(count, raw),
            List.of(new Operand("sum", Format.signed(32, 32)), new Operand("next", raw.format())),
            (in, out) -> {
              out[0] = in[0] + in[1];
              out[1] = in[1] + 1;
            });
    Design design =
        new Design(
            "counter",
            List.of(
                GearTrain.port("in_count", Port.Direction.INPUT, 64, true),
                GearTrain.port("in_raw", Port.Direction.INPUT, 64, false),
                GearTrain.port("out_sum", Port.Direction.OUTPUT, 64, true),
                GearTrain.port("out_next", Port.Direction.OUTPUT, 64, false)),
            List.of(),
            List.of(),
            List.of(),
            List.of(),
            List.of(),
            List.of());
    SoftDut dut =
        new SoftDut() {
          @Override
          public void settle(Pins pins) {
            pins.set("out_sum", pins.get("in_count") + pins.get("in_raw"));
            long next = pins.get("in_raw") + 1;
            pins.set("out_next", next % 10 == 3 ? next ^ 1 : next);
          }

          @Override
          public void edge(Pins pins) {}
        };
    Engine.Maker maker = opening -> new SoftEngine(dut, Set.of("out_sum", "out_next"), opening);
    return new Bench.Builder(design, maker, "0123abcd")
        .contract(Contract.of(reference).build())
        .cases(2_000)
        .run();
  }
}
