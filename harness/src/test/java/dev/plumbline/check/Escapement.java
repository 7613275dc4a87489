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
import java.util.Iterator;
import java.util.List;
import java.util.Set;

/**
 * A slow part of the orrery in software, with valid and ready on both sides: {@code travel = ticks
 * * step}, which takes 2 to 9 cycles. Up to four cases are under way. Can be made with a fault.
 */
final class Escapement implements SoftDut {
  static final int LEAST = 2;
  static final int MOST = 9;

  /** What can be wrong with it. */
  public enum Fault {
    NONE,
    VALUE_WRONG,
    CHANGES_WHILE_STALLED,
    WITHDRAWS_WHILE_STALLED,
    LOSES_A_RESULT,
    REPEATS_A_RESULT,
    SWAPS_RESULTS,
    TOO_LATE,
    TOO_EARLY,
    INVENTS_A_RESULT,
    NEVER_READY_AGAIN,
    SWALLOWS_THE_LAST_RESULT,
    RESET_LEAVES_RESULTS,
    LOSES_A_RESULT_AND_LATER_ONE_IS_WRONG,
    LOSES_RESULTS_AGAIN_AND_AGAIN,
    WITHDRAWS_FOR_GOOD,
    VALID_UNDER_RESET
  }

  static final Reference REFERENCE =
      Reference.of(
          "escapement",
          List.of(
              new Operand("ticks", Format.unsigned(3, 0)),
              new Operand("step", Format.signed(8, 16))),
          List.of(new Operand("travel", Format.signed(11, 16))),
          (in, out) -> out[0] = in[0] * in[1]);

  static final Design DESIGN =
      new Design(
          "escapement",
          List.of(
              GearTrain.port("clk", Port.Direction.INPUT, 1, false),
              GearTrain.port("rst", Port.Direction.INPUT, 1, false),
              GearTrain.port("in_valid", Port.Direction.INPUT, 1, false),
              GearTrain.port("in_ready", Port.Direction.OUTPUT, 1, false),
              GearTrain.port("in_ticks", Port.Direction.INPUT, 3, false),
              GearTrain.port("in_step", Port.Direction.INPUT, 24, true),
              GearTrain.port("out_valid", Port.Direction.OUTPUT, 1, false),
              GearTrain.port("out_ready", Port.Direction.INPUT, 1, false),
              GearTrain.port("out_travel", Port.Direction.OUTPUT, 27, true)),
          List.of(),
          List.of(new Clock("clk", Clock.Edge.RISING, GearTrain.at(9))),
          List.of(),
          List.of(),
          List.of(),
          List.of());

  /** A result under way. */
  private static final class Result {
    long travel;
    final long due;

    Result(long travel, long due) {
      this.travel = travel;
      this.due = due;
    }
  }

  private final Fault fault;
  private final Deque<Result> results = new ArrayDeque<>();
  private long now;
  private int taken;
  private long stalledFor;
  private boolean withdrawn;
  private boolean swapped;
  private int resetFor;
  private boolean validBefore;

  Escapement(Fault fault) {
    this.fault = fault;
  }

  static Bench.Builder bench(Fault fault) {
    Engine.Maker maker =
        opening ->
            new SoftEngine(
                new Escapement(fault), Set.of("in_ready", "out_valid", "out_travel"), opening);
    return new Bench.Builder(DESIGN, maker, "0123abcd")
        .named("escapement")
        .contract(contract().build())
        .cases(4_000);
  }

  static Contract.Builder contract() {
    return Contract.of(REFERENCE)
        .valid("in_valid", "out_valid")
        .ready("in_ready", "out_ready")
        .reset("rst")
        .latencyBetween(LEAST, MOST);
  }

  @Override
  public void settle(Pins pins) {
    boolean stuck = fault == Fault.NEVER_READY_AGAIN && taken == 300;
    pins.set("in_ready", results.size() < 4 && !stuck);
    Result head = results.peek();
    boolean valid = head != null && head.due <= now && !withdrawn;
    if (fault == Fault.VALID_UNDER_RESET && pins.isHigh("rst") && resetFor > 0) {
      valid = validBefore;
    }
    pins.set("out_valid", valid);
    pins.set("out_travel", valid && head != null ? head.travel : 0);
  }

  @Override
  public void edge(Pins pins) {
    boolean given = pins.isHigh("out_valid") && pins.isHigh("out_ready");
    boolean accepted = pins.isHigh("in_valid") && pins.isHigh("in_ready");
    stalledFor = pins.isHigh("out_valid") && !given ? stalledFor + 1 : 0;
    withdrawn = false;
    if (taken > 200 && stalledFor == 3) {
      if (fault == Fault.CHANGES_WHILE_STALLED) {
        results.peek().travel++;
      }
      withdrawn = fault == Fault.WITHDRAWS_WHILE_STALLED;
    }
    if (fault == Fault.WITHDRAWS_FOR_GOOD && stalledFor == 2) {
      results.poll();
      stalledFor = 0;
    }
    if (given) {
      Result gone = results.poll();
      if (fault == Fault.REPEATS_A_RESULT && taken == 200) {
        results.addFirst(gone);
        taken++;
      }
    }
    if (accepted) {
      accept(pins.get("in_ticks"), pins.get("in_step"));
    }
    validBefore = pins.isHigh("out_valid");
    resetFor = pins.isHigh("rst") ? resetFor + 1 : 0;
    if (pins.isHigh("rst")) {
      boolean keeps = fault == Fault.RESET_LEAVES_RESULTS;
      if (!keeps) {
        results.clear();
      }
    }
    now++;
  }

  private void accept(long ticks, long step) {
    taken++;
    long travel = ticks * step + (fault == Fault.VALUE_WRONG && taken > 200 && ticks == 5 ? 1 : 0);
    // Results leave in order, at the latest MOST cycles after they were taken.
    long due = now + (fault == Fault.TOO_EARLY && taken == 200 ? 1 : LEAST + (ticks & 3));
    if (fault == Fault.TOO_LATE && taken == 200) {
      due = now + MOST + 2;
    }
    boolean last = fault == Fault.SWALLOWS_THE_LAST_RESULT && taken == 4_000;
    boolean loses =
        fault == Fault.LOSES_A_RESULT || fault == Fault.LOSES_A_RESULT_AND_LATER_ONE_IS_WRONG;
    if (fault == Fault.LOSES_A_RESULT_AND_LATER_ONE_IS_WRONG && taken == 3_000) {
      travel++;
    }
    boolean again = fault == Fault.LOSES_RESULTS_AGAIN_AND_AGAIN && taken > 200 && taken % 5 == 0;
    if (!(loses && taken == 200) && !last && !again) {
      results.add(new Result(travel, due));
    }
    if (fault == Fault.INVENTS_A_RESULT && taken == 200) {
      results.add(new Result(12345, due));
    }
    if (fault == Fault.SWAPS_RESULTS && taken > 200 && !swapped && results.size() >= 2) {
      Iterator<Result> backwards = results.descendingIterator();
      Result newest = backwards.next();
      Result before = backwards.next();
      if (before.due > now) {
        long kept = newest.travel;
        newest.travel = before.travel;
        before.travel = kept;
        swapped = true;
      }
    }
  }
}
