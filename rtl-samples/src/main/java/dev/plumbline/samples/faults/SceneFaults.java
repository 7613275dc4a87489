package dev.plumbline.samples.faults;

import static dev.plumbline.faults.Fault.Kind.COUNTER;
import static dev.plumbline.faults.Fault.Kind.DECISION;
import static dev.plumbline.faults.Fault.Kind.LATENCY;
import static dev.plumbline.faults.Fault.Kind.MEMORY;
import static dev.plumbline.faults.Fault.Kind.OPERAND;
import static dev.plumbline.faults.Fault.Kind.ORDER;
import static dev.plumbline.faults.Fault.Kind.RESET;
import static dev.plumbline.faults.Fault.Kind.STALL;
import static dev.plumbline.faults.Fault.Kind.WIDTH;
import static dev.plumbline.faults.Fault.Shows.ANY_STREAM;
import static dev.plumbline.faults.Fault.Shows.BACK_TO_BACK;
import static dev.plumbline.faults.Fault.Shows.ONE_CYCLE_RESET;
import static dev.plumbline.faults.Fault.Shows.STALLS;

import dev.plumbline.faults.Fault;
import java.util.List;
import java.util.stream.Stream;

/** The faults of the scene executor, as {@link Faults} has them for other units. */
final class SceneFaults {
  private SceneFaults() {}

  /** Every fault, those of its order and timing first. */
  static List<Fault> all() {
    return Stream.of(TIMING, SceneValueFaults.all()).flatMap(List::stream).toList();
  }

  private static final List<Fault> TIMING =
      new FaultsOf("scene_executor", "s8.8 small", "skip_predictor.sv")
          .fault(
              "predictor-never-forgets",
              COUNTER,
              ANY_STREAM,
              "A skip that is not taken does not count down.",
              "if (!update_taken_q && counter != 2'd0)",
              "if (!update_taken_q && counter == 2'd3)")
          .fault(
              "predictor-updated-twice",
              COUNTER,
              ANY_STREAM,
              "A skip that is taken counts twice.",
              "counter_d = counter + 2'd1;",
              "counter_d = {1'b1, counter != 2'd0};")
          .fault(
              "predictor-wraps",
              COUNTER,
              ANY_STREAM,
              "The counter goes from 3 to 0.",
              "if (update_taken_q && counter != 2'd3)",
              "if (update_taken_q)")
          .fault(
              "predicted-from-one",
              DECISION,
              ANY_STREAM,
              "Taken is predicted where the counter is 1 as well.",
              "counters_q[2*in_address[P-1:0]+1];",
              "counters_q[2*in_address[P-1:0]+:2] != 2'd0;")
          .fault(
              "predictor-of-the-neighbour",
              OPERAND,
              ANY_STREAM,
              "The outcome goes to the counter of the next address.",
              "update_index_q <= update_address[P-1:0];",
              "update_index_q <= update_address[P-1:0] + P'(1);")
          .fault(
              "reset-misses-the-predictor",
              RESET,
              ONE_CYCLE_RESET,
              "A reset clears the first counter alone.",
              "if (rst) counters_q <= '0;",
              "if (rst) counters_q[1:0] <= '0;")
          .in("scene_fetch.sv")
          .fault(
              "bubble-missing",
              LATENCY,
              ANY_STREAM,
              "The operation after a skip predicted taken slips through.",
              "next_d  = in_word_target;\n      valid_d = 1'b0;",
              "next_d  = in_word_target;\n      valid_d = read_enable;")
          .fault(
              "bubble-too-many",
              LATENCY,
              ANY_STREAM,
              "The next word is read only once an operation has gone.",
              "reading_q && (!valid_q || leaves);",
              "reading_q && !valid_q;")
          .fault(
              "stop-ignored",
              DECISION,
              ANY_STREAM,
              "Fetching goes on after an any-hit stop.",
              "if (redirect_valid || stop) begin",
              "if (redirect_valid || (stop && !reading_q)) begin")
          .in("program_memory.sv")
          .fault(
              "word-not-loaded",
              MEMORY,
              ANY_STREAM,
              "The load port cannot reach the last word but one: full programs alone" + " show it.",
              "if (load_valid) words",
              "if (load_valid && load_address != A'(2 ** A - 2)) words")
          .in("operation_queue.sv")
          .fault(
              "newcomer-overwrites-the-next",
              ORDER,
              ANY_STREAM,
              "An operation that arrives takes the place of one that has not retired.",
              "if (direct) direct_entry_q",
              "if (in_valid) direct_entry_q")
          .fault(
              "order-lost",
              ORDER,
              ANY_STREAM,
              "An operation that arrives as another retires goes before those that" + " wait.",
              "oldest_q <= !next_valid_q ? in_entry",
              "oldest_q <= !next_valid_q || in_valid ? in_entry")
          .in("scene_context.sv")
          .fault(
              "flush-leaves-the-queue",
              RESET,
              ANY_STREAM,
              "Operations that wait survive a wrong prediction.",
              ") queue (\n      .clk      (clk),\n      .rst      (rst || flush),",
              ") queue (\n      .clk      (clk),\n      .rst      (rst || finished_q || abort_q),")
          .fault(
              "flush-leaves-those-in-flight",
              RESET,
              ANY_STREAM,
              "Operations on their way survive a late wrong decision: stale spans.",
              "assign drop_all    = flush;",
              "assign drop_all    = finished_q || abort_q;")
          .fault(
              "younger-ones-stay",
              RESET,
              ANY_STREAM,
              "Operations behind a skip that was predicted wrong survive its early decision.",
              "assign drop_young  = early_wrong_q;",
              "assign drop_young  = early_wrong_q && in_flight_q == '0;")
          .fault(
              "limit-forgotten-early",
              DECISION,
              ANY_STREAM,
              "A box beyond the limit alone is not passed over.",
              "(early_missed || (W + 1)'(early_entry) > limit_reach_q);",
              "(early_missed || ((W + 1)'(early_entry) > limit_reach_q && early_missed));")
          .fault(
              "room-lost-by-a-flush",
              STALL,
              ANY_STREAM,
              "The room of operations that vanish is never given back to the ray.",
              "if (rst || flush) in_flight_q",
              "if (rst || finished_q || abort_q) in_flight_q")
          .fault(
              "room-one-less",
              STALL,
              ANY_STREAM,
              "One operation less is dispatched than there is room for: only where"
                  + " combinations keep retirement busy.",
              "in_flight_q != InFlightW'(Q) &&",
              "in_flight_q != InFlightW'(Q - 1) &&")
          .fault(
              "any-hit-for-good",
              RESET,
              ANY_STREAM,
              "Once a ray was any-hit, all are.",
              "any_hit_q     <= ray_any_hit;",
              "any_hit_q     <= any_hit_q || ray_any_hit;")
          .fault(
              "start-of-the-ray-before",
              RESET,
              ANY_STREAM,
              "Start is kept from the ray before, where that was any-hit.",
              "start_q       <= ray_start[W-1] ? '0 : ray_start;",
              "start_q       <= any_hit_q ? start_q : ray_start[W-1] ? '0 : ray_start;")
          .fault(
              "end-not-counted",
              COUNTER,
              ANY_STREAM,
              "The last operation of a ray is not counted.",
              "operations_q + 32'(retires);",
              "operations_q + 32'(retires && !finished);")
          .fault(
              "cycles-from-zero",
              COUNTER,
              ANY_STREAM,
              "The cycle of acceptance is not counted.",
              "cycles_q          <= 32'd1;",
              "cycles_q          <= 32'd0;")
          .fault(
              "wrong-counter-stuck",
              COUNTER,
              ANY_STREAM,
              "Wrong predictions of taken are not counted.",
              "predicted_wrong_q + 32'(update_valid && !update_right);",
              "predicted_wrong_q + 32'(update_valid && !update_right && update_taken);")
          .fault(
              "right-counter-not-cleared",
              COUNTER,
              ANY_STREAM,
              "Right predictions are counted on from the ray before.",
              "predicted_right_q <= '0;",
              "predicted_right_q <= predicted_right_q;")
          .fault(
              "reset-leaves-the-ray",
              RESET,
              ONE_CYCLE_RESET,
              "A reset does not end the ray in hand, which never ends.",
              "    if (rst) begin\n      state_q    <= StateIdle;",
              "    if (rst) begin\n      if (state_q != StateRun) state_q <= StateIdle;")
          .fault(
              "cycles-wrap",
              COUNTER,
              ANY_STREAM,
              "The count of cycles has eight bits.",
              "cycles_q          <= cycles_q + 32'd1;",
              "cycles_q          <= 32'(8'(cycles_q + 32'd1));")
          .fault(
              "right-predictions-wrap",
              COUNTER,
              ANY_STREAM,
              "The count of right predictions has two bits.",
              "predicted_right_q + 32'(update_valid && update_right);",
              "32'(2'(predicted_right_q + 32'(update_valid && update_right)));")
          .fault(
              "cycles-run-on",
              STALL,
              STALLS,
              "Cycles are counted while the result waits to be taken.",
              "end else if (state_q == StateRun && !finished_q) begin",
              "end else if (state_q != StateIdle && !finished_q) begin")
          .fault(
              "hit-not-held",
              STALL,
              STALLS,
              "A hit that is not taken at once is withdrawn.",
              "StateOffer: if (result_ready) state_d = StateIdle;",
              "StateOffer: if (result_ready || result_hit) state_d = StateIdle;")
          .fault(
              "takes-a-ray-while-it-offers",
              STALL,
              STALLS,
              "A ray is accepted while a result waits to be taken, and forgotten.",
              "assign ray_ready    = state_q == StateIdle &&",
              "assign ray_ready    = state_q != StateRun &&")
          .in("scene_contexts.sv")
          .fault(
              "operation-of-the-next-solid",
              LATENCY,
              BACK_TO_BACK,
              "The rest of an operation comes a cycle before its span.",
              ".DEPTH(SolidLatency - BoxLatency)",
              ".DEPTH(SolidLatency - BoxLatency - 1)")
          .in("program_memory.sv")
          .fault(
              "word-changes-while-it-waits",
              MEMORY,
              ANY_STREAM,
              "The word that is read changes with the address while dispatch has no room.",
              "if (read_enable && !load_valid) word_q",
              "if ((read_enable || read_address != '0) && !load_valid) word_q")
          .fault(
              "half-of-the-words",
              MEMORY,
              ANY_STREAM,
              "Words from 32 on are loaded in the place of those from 0: longer programs show it.",
              "words[shared_address] <= load_word;",
              "words[shared_address & ~A'(32)] <= load_word;")
          .in("operation_queue.sv")
          .fault(
              "index-fails-to-wrap",
              WIDTH,
              ANY_STREAM,
              "Indices run on past the last entry.",
              "following = index == IndexW'(Q - 1) ? '0 : index + IndexW'(1);",
              "following = index + IndexW'(1);")
          .fault(
              "entry-changes-while-it-waits",
              MEMORY,
              ANY_STREAM,
              "The next entry is replaced by the one behind it while the oldest keeps it waiting.",
              "if (fetch) read_entry_q",
              "if (fetch || !nobody_waits) read_entry_q")
          .all();
}
