package dev.plumbline.samples.faults;

import static dev.plumbline.faults.Fault.Kind.COUNTER;
import static dev.plumbline.faults.Fault.Kind.LATENCY;
import static dev.plumbline.faults.Fault.Kind.MEMORY;
import static dev.plumbline.faults.Fault.Kind.STALL;
import static dev.plumbline.faults.Fault.Kind.WIDTH;
import static dev.plumbline.faults.Fault.Shows.ANY_STREAM;
import static dev.plumbline.faults.Fault.Shows.STALLS;

import dev.plumbline.faults.Fault;
import java.util.List;

/**
 * Faults of the scene executor that only long rays, full queues and consumers that wait show:
 * counters and indices too narrow, words that change while they wait, valids and values too early.
 */
final class SceneStreamFaults {
  private SceneStreamFaults() {}

  /** Every one of them. */
  static List<Fault> all() {
    return FAULTS;
  }

  private static final String COUNT_CYCLES = "cycles_q          <= cycles_q + 32'd1;";
  private static final String OFFERS = "  assign result_valid = state_q == StateOffer &&";

  private static final List<Fault> FAULTS =
      new FaultsOf("scene_executor", "s8.8 small", "scene_context.sv")
          .shownBy("scene_executor s16.16") // 63 skips take fewer than 1,024 cycles
          .fault(
              "cycles-of-ten-bits",
              COUNTER,
              ANY_STREAM,
              "The count of cycles has ten bits: a memory full of wrong predictions shows it.",
              COUNT_CYCLES,
              "cycles_q          <= 32'(10'(cycles_q + 32'd1));")
          .shownBy("scene_executor s8.8 small")
          .fault(
              "wrong-predictions-of-five-bits",
              COUNTER,
              ANY_STREAM,
              "The count of wrong predictions has five bits.",
              "predicted_wrong_q + 32'(update_valid && !update_right);",
              "32'(5'(predicted_wrong_q + 32'(update_valid && !update_right)));")
          .fault(
              "room-wraps",
              WIDTH,
              ANY_STREAM,
              "The count of operations dispatched and not retired has three bits of four.",
              "in_flight_q + InFlightW'(dispatch) - InFlightW'(retires)\n",
              "InFlightW'(3'(in_flight_q + InFlightW'(dispatch) - InFlightW'(retires)))\n")
          .fault(
              "result-as-the-last-retires",
              LATENCY,
              ANY_STREAM,
              "The result is offered a cycle too early, and once more in its own.",
              OFFERS,
              "  assign result_valid = (state_q == StateOffer || finished_q) &&")
          .fault(
              "result-again-after-overflow",
              LATENCY,
              ANY_STREAM,
              "A result with overflow stays valid for a cycle after it was taken.",
              OFFERS,
              """
                logic again_q;
                always_ff @(posedge clk) begin
                  again_q <= !rst && state_q == StateOffer && result_ready && result_overflow;
                end
                assign result_valid = (state_q == StateOffer || again_q) &&\
              """)
          .fault(
              "best-lost-while-it-waits",
              STALL,
              STALLS,
              "The best surface is cleared in the first cycle in which the result has to wait.",
              ".clear               (accept),",
              ".clear               (accept || (result_valid && !result_ready)),")
          .fault(
              "withdrawn-after-eight-cycles",
              STALL,
              STALLS,
              "A result that was not taken for eight cycles is withdrawn.",
              "StateOffer: if (result_ready) state_d = StateIdle;",
              "StateOffer: if (result_ready || &waited_q) state_d = StateIdle;")
          .and(
              "  logic [A-1:0]   right_address;\n",
              """
                logic [A-1:0]   right_address;
                logic [2:0]     waited_q;
                always_ff @(posedge clk) waited_q <= result_valid ? waited_q + 3'd1 : '0;

              """)
          .in("scene_retirement.sv")
          .fault(
              "retires-as-it-begins-to-combine",
              LATENCY,
              ANY_STREAM,
              "A combination is shown as retired in its first cycle as well.",
              "assign retire_valid     = retires;",
              "assign retire_valid     = retires || combine;")
          .in("scene_fetch.sv")
          .fault(
              "first-operation-early",
              LATENCY,
              ANY_STREAM,
              "The first operation of a ray, or after a wrong prediction, comes a cycle early.",
              "assign read_enable  = reading_q && (!valid_q || leaves);",
              "assign read_enable  = redirect_valid || (reading_q && (!valid_q || leaves));")
          .and(
              "assign read_address = next_q;",
              "assign read_address = redirect_valid ? redirect_address : next_q;")
          .and(
              "      next_d    = redirect_address;\n      valid_d   = 1'b0;",
              "      next_d    = redirect_address + A'(1);\n      valid_d   = redirect_valid;")
          .and(
              "if (read_enable) address_q <= next_q;",
              "if (read_enable) address_q <= read_address;")
          .fault(
              "address-changes-while-it-waits",
              MEMORY,
              ANY_STREAM,
              "An operation that waits for room gets the address of the next one.",
              "if (read_enable) address_q <= next_q;",
              "if (read_enable || valid_q) address_q <= next_q;")
          .in("operation_queue.sv")
          .fault(
              "entry-forgotten-while-it-waits",
              MEMORY,
              ANY_STREAM,
              "An entry read from memory that is not the oldest at once gives way to the one that"
                  + " came last without waiting.",
              "if (direct || fetch) from_memory_q <= fetch;",
              "from_memory_q <= fetch;")
          .fault(
              "waiting-of-two-bits",
              WIDTH,
              ANY_STREAM,
              "The count of entries that wait wraps at four.",
              "waiting_q <= waiting_q + CountW'(put_away) - CountW'(fetch);",
              "waiting_q <= CountW'(2'(waiting_q + CountW'(put_away) - CountW'(fetch)));")
          .fault(
              "write-index-runs-on",
              WIDTH,
              ANY_STREAM,
              "The index of writing runs on past the last entry.",
              "if (put_away) write_q <= following(write_q);",
              "if (put_away) write_q <= write_q + IndexW'(1);")
          .fault(
              "read-index-wraps-early",
              WIDTH,
              ANY_STREAM,
              "The index of reading wraps before the last entry.",
              "if (fetch) read_q <= following(read_q);",
              "if (fetch) read_q <= read_q == IndexW'(Q - 2) ? '0 : following(read_q);")
          .in("scene_context.sv")
          .shownBy("scene_executor s16.16")
          .fault(
              "cycles-of-twelve-bits",
              COUNTER,
              ANY_STREAM,
              "The count of cycles has twelve bits: a ray of more than 4,095 shows it.",
              COUNT_CYCLES,
              "cycles_q          <= 32'(12'(cycles_q + 32'd1));")
          .fault(
              "cycles-of-fifteen-bits",
              COUNTER,
              ANY_STREAM,
              "The count of cycles has fifteen bits: the longest ray alone shows it.",
              COUNT_CYCLES,
              "cycles_q          <= 32'(15'(cycles_q + 32'd1));")
          .fault(
              "operations-of-nine-bits",
              COUNTER,
              ANY_STREAM,
              "The count of operations has nine bits.",
              "operations_q + 32'(retires);",
              "32'(9'(operations_q + 32'(retires)));")
          .all();
}
