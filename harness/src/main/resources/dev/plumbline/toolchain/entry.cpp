// The end of every model's translation unit: the calls that Java makes (class NativeDesign). What
// is particular to the design stands just before, written by class PortCode: Root, drive_inputs,
// sample_outputs, clear_inouts and input_bit; in a probe build internals.cpp as well.
#include <memory>
#include <vector>

namespace {

#ifndef PLUMB_INTERNALS
// Nobody looks inside.
struct Observer final {
  void sampled(int64_t, bool) {}
};
#endif

// A clock beyond the first. Times are in halves of the user's unit, so that half a period is a
// whole number, and count from the first clock's first rising edge.
struct FurtherClock final {
  CData* pin;
  int64_t half_period;
  int64_t next_edge;
  CData level;
};

// Bits of a stream's valid column beside the offer itself; class OfferBits has the same.
constexpr int64_t kOtherClock = 2;    // the clock of the cases does not rise: nothing is taken
constexpr int64_t kInverted = 4;      // the ready port is 0 where the DUT is free
constexpr int64_t kOnce = 8;          // valid is high for one cycle, after the DUT was seen free
constexpr int64_t kForget = 16;       // reset is asserted, or nothing has come before
constexpr int64_t kFreeAtFirst = 32;  // after that the DUT is free without being seen so
constexpr int64_t kLow = 64;          // the valid port is 0 where a case is on offer

struct Model final : plumb::Handle {
  using plumb::Handle::Handle;

  std::unique_ptr<Vdut> top;
  int64_t* slots = nullptr;  // a word for each column: what single cycles apply and sample
  CData* clock = nullptr;    // null: one evaluation a row, or a row for each rise of the others
  int64_t half_period = 1;   // of the clock, where there are further ones
  int64_t rise = 0;          // when it rises next
  std::vector<FurtherClock> others;
  Observer observer;
  bool offered = false;  // a case of a stream was offered and has not been taken
  uint64_t time_unit = 1;  // of the top module, in units of the design's time precision
  bool free = false;     // the DUT was seen free since the last case was taken

  // $time is the cycle. With further clocks it is in the unit of their periods.
  void evaluate() {
    context.time(static_cast<uint64_t>(control.cycles) * time_unit);
    top->eval();
  }

  void evaluate_at(int64_t time) {
    context.time(static_cast<uint64_t>(time + half_period) / 2 * time_unit);
    top->eval();
  }

  void edges_at(int64_t time) {
    for (FurtherClock& other : others) {
      if (other.next_edge == time) {
        other.level ^= 1;
        other.next_edge += other.half_period;
      }
      *other.pin = other.level;
    }
  }

  int64_t next_rise() const {
    int64_t soonest = INT64_MAX;
    for (const FurtherClock& other : others) {
      soonest = std::min(soonest, other.next_edge + (other.level ? other.half_period : 0));
    }
    return soonest;
  }

  // Edges of the same moment happen together, so that registers see each other's old values.
  void edges_before(int64_t time) {
    for (;;) {
      int64_t soonest = time;
      for (const FurtherClock& other : others) soonest = std::min(soonest, other.next_edge);
      if (soonest == time) return;
      edges_at(soonest);
      evaluate_at(soonest);
    }
  }
};

// One row: 1. the inputs are applied, 2. the logic settles with the clock low, 3. the outputs are
// sampled, 4. the clock rises and the logic settles. at(column) is the word of a column; last says
// that no more rows follow in this call.
template <class At>
inline void row(Model& model, Root& root, bool last, At at) {
  drive_inputs(root, at);
  if (!model.clock && !model.others.empty()) {
    const int64_t rise = model.next_rise();
    for (const FurtherClock& other : model.others) *other.pin = other.level;
    model.edges_before(rise);
    model.evaluate_at(rise - 1);
    sample_outputs(root, at);
    model.observer.sampled(model.control.cycles, last);
    model.edges_at(rise);
    model.evaluate_at(rise);
  } else if (!model.clock) {
    model.evaluate();
    sample_outputs(root, at);
    model.observer.sampled(model.control.cycles, last);
  } else if (model.others.empty()) {
    *model.clock = 0;
    model.evaluate();
    sample_outputs(root, at);
    model.observer.sampled(model.control.cycles, last);
    *model.clock = 1;
    model.top->eval();  // at the same time
  } else {
    const int64_t fall = model.rise - model.half_period;
    *model.clock = 0;
    model.edges_at(fall);
    model.evaluate_at(fall);
    model.edges_before(model.rise);
    sample_outputs(root, at);
    model.observer.sampled(model.control.cycles, last);
    *model.clock = 1;
    model.edges_at(model.rise);
    model.evaluate_at(model.rise);
    model.edges_before(model.rise + model.half_period);
    model.rise += 2 * model.half_period;
  }
  model.tick();
}

// One row on the words in the slots; compiled once for all calls that run rows so.
[[gnu::noinline]] void row_of_slots(Model& model, bool last) {
  int64_t* const slots = model.slots;
  row(model, *model.top->rootp, last, [=](int column) -> int64_t& { return slots[column]; });
}

}  // namespace

// Everything before this point is compiled as private to the library.
#pragma GCC visibility push(default)
extern "C" {

// Opens a model; null if it cannot be made, which control then reports.
Model* plumb_open(plumb::Control* control, int64_t* slots, uint64_t seed, int initial_state,
                  int flags, const char* texts) {
  auto model = std::make_unique<Model>(*control, seed, initial_state, flags, texts);
  model->slots = slots;
  const int status = plumb::guarded(*model, [&] {
    model->top = std::make_unique<Vdut>(&model->context);
    clear_inouts(*model->top->rootp);
    for (int i = model->context.timeprecision(); i < model->context.timeunit(); ++i) {
      model->time_unit *= 10;
    }
#ifdef PLUMB_INTERNALS
    model->observer.find(model->context);
#endif
  });
  if (status != plumb::OK) plumb::guarded(*model, [&] { model->top.reset(); });
  return status == plumb::OK ? model.release() : nullptr;
}

// Drives the given input as the clock, with this many halves of a unit in half its period.
void plumb_clock(Model* model, int column, int64_t half_period) {
  model->clock = input_bit(*model->top->rootp, column);
  model->half_period = half_period;
}

// Adds a clock: first_rise counts from the first clock's first rising edge.
void plumb_further_clock(Model* model, int column, int64_t half_period, int64_t first_rise) {
  model->others.push_back(
      FurtherClock{input_bit(*model->top->rootp, column), half_period, first_rise, 0});
}

// Runs cycles on the inputs in the slots; the slots then have the outputs sampled last.
int plumb_cycle(Model* model, int64_t cycles) {
  return plumb::guarded(*model, [=] {
    model->control.rows = 0;
    for (int64_t i = 0; i < cycles && !model->finished; ++i) row_of_slots(*model, i == cycles - 1);
  });
}

// The first half of a cycle: the clock stays low.
int plumb_settle(Model* model) {
  return plumb::guarded(*model, [=] {
    Root& root = *model->top->rootp;
    int64_t* const slots = model->slots;
    const auto at = [=](int column) -> int64_t& { return slots[column]; };
    drive_inputs(root, at);
    if (model->clock) *model->clock = 0;
    for (const FurtherClock& other : model->others) *other.pin = other.level;
    model->top->eval();
    sample_outputs(root, at);
#ifdef PLUMB_INTERNALS
    model->observer.keep();
#endif
  });
}

// Runs cycles on random inputs and folds what they give into a digest. Inputs that are not drawn
// keep what the slots have.
int plumb_digest(Model* model, plumb::DigestRun* run, int64_t cycles) {
  return plumb::guarded(*model, [=] {
    uint64_t state = run->state;
    uint64_t digest = run->digest;
    model->control.rows = 0;
    for (int64_t i = 0; i < cycles && !model->finished; ++i) {
      state = draw_inputs(state, run->held, model->slots);
      row_of_slots(*model, i == cycles - 1);
      digest = fold_outputs(digest, model->slots);
    }
    run->state = state;
    run->digest = digest;
  });
}

// Runs rows; column c of row r is base[c * capacity + r].
int plumb_run(Model* model, int64_t* base, int64_t capacity, int64_t rows) {
  return plumb::guarded(*model, [=] {
    Root& root = *model->top->rootp;
    model->control.rows = 0;
    for (int64_t r = 0; r < rows && !model->finished; ++r) {
      int64_t* const word = base + r;
      row(*model, root, r == rows - 1,
          [=](int column) -> int64_t& { return word[column * capacity]; });
    }
  });
}

// Runs rows in which cases wait for their turn. The valid column offers a case; the offer stands
// until valid and ready are both sampled high, which takes the case. by_row has a 1 for every
// column that is read by row; the others are read by case, from the one on that control.accepted
// names, up to cases. case_at_row gets the case offered at each row, or -1. Further bits of the
// valid column say how a row is to be looked at (class OfferBits).
int plumb_stream(Model* model, int64_t* base, int64_t capacity, int64_t rows, int64_t cases,
                 int valid, int ready, const int8_t* by_row, int32_t* case_at_row) {
  return plumb::guarded(*model, [=] {
    Root& root = *model->top->rootp;
    plumb::Control& control = model->control;
    control.rows = 0;
    for (int64_t r = 0; r < rows && !model->finished; ++r) {
      const int64_t next = control.accepted;
      const int64_t offer_bits = base[valid * capacity + r];
      const bool once = (offer_bits & kOnce) != 0;
      const bool waiting = next < cases && (!once || model->free || model->offered);
      model->offered = waiting && (model->offered || (offer_bits & 1) != 0);
      // With no case left the last one stays: a payload has to be something.
      const int64_t payload = next < cases ? next : std::max<int64_t>(cases - 1, 0);
      int64_t offer = model->offered != ((offer_bits & kLow) != 0);
      row(*model, root, r == rows - 1, [=, &offer](int column) -> int64_t& {
        if (column == valid) return offer;
        return base[column * capacity + (by_row[column] ? r : payload)];
      });
      case_at_row[r] = model->offered ? static_cast<int32_t>(next) : -1;
      const bool inverted = (offer_bits & kInverted) != 0;
      const bool high = ((base[ready * capacity + r] & 1) != 0) != inverted;
      if ((offer_bits & kOtherClock) == 0) {
        if (model->offered && (once || high)) {
          ++control.accepted;
          model->offered = false;
          model->free = false;
        } else if (high) {
          model->free = true;
        }
      }
      if ((offer_bits & kForget) != 0) model->free = (offer_bits & kFreeAtFirst) != 0;
    }
  });
}

// Runs the final blocks, once, before a model is closed.
int plumb_final(Model* model) {
  return plumb::guarded(*model, [=] { model->top->final(); });
}

void plumb_close(Model* model) {
  plumb::guarded(*model, [=] { model->top.reset(); });
  delete model;
}

#ifdef PLUMB_INTERNALS
// Lists what is inside; see class Observer for this and the two below.
int64_t plumb_signals(Model* model, char* to, int64_t size) {
  return model->observer.describe(to, size);
}

void plumb_keep(Model* model, char* to) { model->observer.keep_at(to); }

void plumb_record(Model* model, const int64_t* list, int64_t count, int64_t* base,
                  int64_t capacity, int64_t first, int64_t* rows) {
  model->observer.record(list, count, base, capacity, first, rows);
}
#endif

}
#pragma GCC visibility pop
