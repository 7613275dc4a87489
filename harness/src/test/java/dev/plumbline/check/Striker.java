package dev.plumbline.check;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.drive.Engine;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.rtl.Clock;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.Set;

/**
 * The bell of the orrery in software, with valid and ready on both sides: none to three strikes for
 * a case, numbered since the last reset. The first is ready 2 or 3 cycles after its case, if no
 * other is before it. Can be made with a fault.
 */
final class Striker implements SoftDut {
  static final int LEAST = 2;
  static final int MOST = 3;

  /** What can be wrong with it. */
  public enum Fault {
    NONE,
    NUMBER_OUTLIVES_A_RESET,
    STRIKES_OUTLIVE_A_RESET,
    END_TOO_EARLY,
    LOSES_A_STRIKE_UNDER_A_STALL,
    A_STRIKE_TOO_MANY,
    PAUSES_IN_A_PACKET,
    FORCE_WRONG_LATE_IN_A_SEGMENT,
    TOO_EARLY
  }

  static final Reference REFERENCE =
      Reference.statefulStream(
          "striker",
          List.of(
              new Operand("strikes", Format.unsigned(2, 0)),
              new Operand("force", Format.unsigned(12, 0))),
          List.of(
              new Operand("number", Format.unsigned(16, 0)),
              new Operand("force", Format.unsigned(12, 0)),
              new Operand("last", Format.bit())),
          () -> {
            long[] struck = new long[1];
            long[] codes = new long[3];
            return (in, results) -> {
              for (int n = 1; n <= in[0]; n++) {
                codes[0] = struck[0]++;
                codes[1] = in[1];
                codes[2] = n == in[0] ? 1 : 0;
                results.give(codes);
              }
            };
          });

  static final Design DESIGN =
      new Design(
          "striker",
          List.of(
              GearTrain.port("clk", Port.Direction.INPUT, 1, false),
              GearTrain.port("rst", Port.Direction.INPUT, 1, false),
              GearTrain.port("in_valid", Port.Direction.INPUT, 1, false),
              GearTrain.port("in_ready", Port.Direction.OUTPUT, 1, false),
              GearTrain.port("in_strikes", Port.Direction.INPUT, 2, false),
              GearTrain.port("in_force", Port.Direction.INPUT, 12, false),
              GearTrain.port("out_valid", Port.Direction.OUTPUT, 1, false),
              GearTrain.port("out_ready", Port.Direction.INPUT, 1, false),
              GearTrain.port("out_number", Port.Direction.OUTPUT, 16, false),
              GearTrain.port("out_force", Port.Direction.OUTPUT, 12, false),
              GearTrain.port("out_last", Port.Direction.OUTPUT, 1, false)),
          List.of(),
          List.of(new Clock("clk", Clock.Edge.RISING, GearTrain.at(9))),
          List.of(),
          List.of(),
          List.of(),
          List.of());

  private record Strike(long number, long force, long last, long due) {}

  private final Fault fault;
  private final Deque<Strike> strikes = new ArrayDeque<>();
  private long now;
  private long number;
  private long taken;
  private long stalledFor;
  private long silentUntil;

  Striker(Fault fault) {
    this.fault = fault;
  }

  static Bench.Builder bench(Fault fault) {
    Engine.Maker maker =
        opening ->
            new SoftEngine(
                new Striker(fault),
                Set.of("in_ready", "out_valid", "out_number", "out_force", "out_last"),
                opening);
    Contract contract =
        Contract.of(REFERENCE)
            .valid("in_valid", "out_valid")
            .ready("in_ready", "out_ready")
            .reset("rst")
            .latencyBetween(LEAST, MOST)
            .build();
    return new Bench.Builder(DESIGN, maker, "0123abcd")
        .named("striker")
        .contract(contract)
        .initialStates(0)
        .cases(4_000);
  }

  @Override
  public void settle(Pins pins) {
    Strike head = strikes.peek();
    boolean valid = head != null && head.due <= now && now >= silentUntil;
    pins.set("in_ready", strikes.size() < 6);
    pins.set("out_valid", valid);
    pins.set("out_number", valid ? head.number : 0);
    pins.set("out_force", valid ? head.force : 0);
    pins.set("out_last", valid ? head.last : 0);
  }

  @Override
  public void edge(Pins pins) {
    boolean given = pins.isHigh("out_valid") && pins.isHigh("out_ready");
    stalledFor = pins.isHigh("out_valid") && !given ? stalledFor + 1 : 0;
    if (given) {
      Strike gone = strikes.poll();
      if (fault == Fault.PAUSES_IN_A_PACKET && taken > 500 && gone.last == 0) {
        silentUntil = now + 4; // 3 silent cycles; of 2 or 3 one may be silent
      }
    }
    if (pins.isHigh("in_valid") && pins.isHigh("in_ready")) {
      accept(pins.get("in_strikes"), pins.get("in_force"));
    }
    if (pins.isHigh("rst")) {
      if (fault != Fault.STRIKES_OUTLIVE_A_RESET) {
        strikes.clear();
      }
      silentUntil = 0;
      number = fault == Fault.NUMBER_OUTLIVES_A_RESET ? number : 0;
    }
    now++;
  }

  private void accept(long count, long given) {
    taken++;
    boolean late = fault == Fault.FORCE_WRONG_LATE_IN_A_SEGMENT && taken == 40_000;
    long force = late ? given ^ 1 : given;
    long due = now + (fault == Fault.TOO_EARLY && taken > 100 ? 1 : LEAST + (given & 1));
    long more = fault == Fault.A_STRIKE_TOO_MANY && taken > 700 && count == 0 ? 1 : count;
    boolean loses = fault == Fault.LOSES_A_STRIKE_UNDER_A_STALL && stalledFor >= 3 && taken > 600;
    for (int n = 1; n <= more; n++) {
      boolean last = n == more || (fault == Fault.END_TOO_EARLY && n + 1 == more && force == 77);
      if (!(loses && n == 2)) {
        strikes.add(new Strike(number & 0xFFFF, force, last ? 1 : 0, due));
      }
      number++;
    }
  }
}
