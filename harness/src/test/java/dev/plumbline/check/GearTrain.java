package dev.plumbline.check;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.drive.Engine;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.rtl.Clock;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import dev.plumbline.rtl.SourceLocation;
import java.util.List;
import java.util.Random;
import java.util.Set;

/**
 * A gear of the orrery in software, three clocks deep: {@code angle = turns * teeth + offset}, and
 * {@code forward} where that is above 0. Can be made with a fault.
 */
public final class GearTrain implements SoftDut {
  public static final Operand TURNS = new Operand("turns", Format.signed(8, 8));
  public static final Operand TEETH = new Operand("teeth", Format.unsigned(8, 0));
  public static final Operand OFFSET = new Operand("offset", Format.signed(16, 8));
  public static final Operand ANGLE = new Operand("angle", Format.signed(18, 8));
  static final Operand FORWARD = new Operand("forward", Format.bit());

  /** What can be wrong with it. */
  public enum Fault {
    NONE,
    ONE_CYCLE_LATE,
    ONE_CYCLE_EARLY,
    DATA_ONE_CYCLE_LATE,
    ONE_TOO_MUCH_WHERE_TEETH_ARE_99,
    FLAG_INVERTED_WHERE_TEETH_ARE_99,
    VALID_LOST_AFTER_A_BUBBLE,
    RESET_MISSES_THE_LAST_STAGE,
    SUM_NOT_RESET,
    SHOWS_THE_RESULT_BEFORE,
    NEIGHBOURS_SWAPPED,
    NEVER_VALID,
    /** No fault where the contract promises 0 unless it goes forward. */
    ZERO_UNLESS_FORWARD,
    ONE_UNLESS_FORWARD_WHERE_TEETH_ARE_99
  }

  static final Reference REFERENCE =
      Reference.of(
          "gear train",
          List.of(TURNS, TEETH, OFFSET),
          List.of(ANGLE, FORWARD),
          (in, out) -> {
            out[0] = in[0] * in[1] + in[2];
            out[1] = out[0] > 0 ? 1 : 0;
          });

  static final Design DESIGN =
      new Design(
          "gear_train",
          List.of(
              port("clk", Port.Direction.INPUT, 1, false),
              port("rst", Port.Direction.INPUT, 1, false),
              port("in_valid", Port.Direction.INPUT, 1, false),
              port("in_turns", Port.Direction.INPUT, 16, true),
              port("in_teeth", Port.Direction.INPUT, 8, false),
              port("in_offset", Port.Direction.INPUT, 24, true),
              port("out_valid", Port.Direction.OUTPUT, 1, false),
              port("out_angle", Port.Direction.OUTPUT, 26, true),
              port("out_forward", Port.Direction.OUTPUT, 1, false)),
          List.of(),
          List.of(new Clock("clk", Clock.Edge.RISING, at(9))),
          List.of(),
          List.of(),
          List.of(),
          List.of());

  private final Fault fault;
  private final int depth;
  private final boolean[] valid = new boolean[8];
  private final long[] angle = new long[8];
  private final boolean[] odd = new boolean[8]; // teeth are 99
  private boolean sawBubble;
  private long before; // the result before; only seen under a fault
  private long sum; // only ever added under a fault

  GearTrain(Fault fault, Engine.Start start, long seed) {
    this.fault = fault;
    this.depth =
        switch (fault) {
          case ONE_CYCLE_LATE -> 4;
          case ONE_CYCLE_EARLY -> 2;
          default -> 3;
        };
    Random chance = new Random(seed);
    for (int i = 0; i < 8; i++) {
      valid[i] = bit(start, chance);
      angle[i] = bit(start, chance) ? 77 : 0;
    }
    sum = bit(start, chance) ? 1 : 0;
    before = bit(start, chance) ? 77 : 0;
  }

  private static boolean bit(Engine.Start start, Random chance) {
    return switch (start) {
      case ZEROS -> false;
      case ONES -> true;
      case RANDOM -> chance.nextBoolean();
    };
  }

  static SourceLocation at(int line) {
    return new SourceLocation("rtl/gear_train.sv", line);
  }

  public static Port port(String name, Port.Direction direction, int width, boolean signed) {
    List<Port.Range> packed = width == 1 ? List.of() : List.of(new Port.Range(width - 1, 0));
    return new Port(name, direction, width, signed, packed, List.of(), List.of(), List.of(), at(4));
  }

  static Engine.Maker maker(Fault fault) {
    return opening ->
        new SoftEngine(
            new GearTrain(fault, opening.start(), opening.seed()),
            Set.of("out_valid", "out_angle", "out_forward"),
            opening);
  }

  public static Contract.Builder contract() {
    return Contract.of(REFERENCE).valid("in_valid", "out_valid").reset("rst").latency(3);
  }

  public static Bench.Builder bench(Fault fault) {
    return new Bench.Builder(DESIGN, maker(fault), "0123abcd")
        .named("gear train")
        .contract(contract().build())
        .cases(10_000);
  }

  @Override
  public void settle(Pins pins) {
    int last = depth - 1;
    long out = angle[fault == Fault.DATA_ONE_CYCLE_LATE ? depth : last];
    boolean isOdd = odd[last];
    if (fault == Fault.ONE_TOO_MUCH_WHERE_TEETH_ARE_99 && isOdd) {
      out++;
    }
    if (fault == Fault.SUM_NOT_RESET) {
      out += sum;
    }
    if (fault == Fault.SHOWS_THE_RESULT_BEFORE) {
      out = before;
    }
    boolean forward = out > 0;
    if (fault == Fault.FLAG_INVERTED_WHERE_TEETH_ARE_99 && isOdd) {
      forward = !forward;
    }
    boolean zero =
        fault == Fault.ZERO_UNLESS_FORWARD || fault == Fault.ONE_UNLESS_FORWARD_WHERE_TEETH_ARE_99;
    if (zero && !forward) {
      out = isOdd && fault != Fault.ZERO_UNLESS_FORWARD ? 1 : 0;
    }
    pins.set("out_valid", valid[last]);
    pins.set("out_angle", out);
    pins.set("out_forward", forward);
  }

  @Override
  public void edge(Pins pins) {
    boolean reset = pins.isHigh("rst");
    boolean taken = pins.isHigh("in_valid");
    before = valid[depth - 1] ? angle[depth - 1] : before;
    for (int i = 7; i > 0; i--) {
      boolean misses = fault == Fault.RESET_MISSES_THE_LAST_STAGE && i == depth - 1;
      valid[i] = valid[i - 1] && (!reset || misses);
      angle[i] = angle[i - 1];
      odd[i] = odd[i - 1];
    }
    valid[0] = taken && !reset && fault != Fault.NEVER_VALID;
    if (fault == Fault.VALID_LOST_AFTER_A_BUBBLE && sawBubble) {
      valid[0] = false;
    }
    sawBubble = !taken && !reset && pins.get("in_teeth") == 7;
    angle[0] = pins.get("in_turns") * pins.get("in_teeth") + pins.get("in_offset");
    odd[0] = pins.get("in_teeth") == 99;
    if (fault == Fault.NEIGHBOURS_SWAPPED && valid[0] && valid[1] && odd[1]) {
      long kept = angle[0];
      angle[0] = angle[1];
      angle[1] = kept;
    }
  }
}
