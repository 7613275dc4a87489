package dev.plumbline.cosim;

import dev.plumbline.rtl.PortLayout;
import dev.plumbline.rtl.Signal;
import java.nio.LongBuffer;
import java.util.ArrayList;
import java.util.List;

/**
 * What a DUT knows of the signals inside its model: directly where that is a probe build, else by a
 * second model that is a probe build and is driven alike.
 */
final class InsideView {
  /** Elements of an array that are recorded with all else; larger ones are memories, left out. */
  private static final int MOST_ELEMENTS = 64;

  /** Words recorded at most, of 8 bytes, and over how many cycles a signal has to fit at least. */
  private static final int MOST_WORDS = 8 << 20;

  private static final int FEW_CYCLES = 256;

  private final CompiledDesign model;
  private final DutOptions options;
  private final boolean[] driven;
  private final boolean[] inputs;
  private final Journal journal;
  private Internals own; // of a probe build
  private Dut second;
  private Journal.Position position;

  InsideView(CompiledDesign model, DutOptions options, LiveDesign instance, boolean[] driven) {
    this.model = model;
    this.options = options;
    this.driven = driven;
    this.inputs = new boolean[driven.length];
    for (PortColumns.Slice place : model.columns().ports()) {
      for (int i = 0; i < place.count(); i++) {
        inputs[place.first() + i] = place.isInput() && !driven[place.first()];
      }
    }
    this.journal = new Journal(driven.length);
    if (model.hasInternals()) {
      own = new Internals(model, instance);
    }
  }

  void cycles(LongBuffer slots, long count) {
    journal.cycles(slots, inputs, count);
  }

  void settle(LongBuffer slots) {
    journal.settle(slots, inputs);
  }

  void interrupt() {
    journal.interrupt("it was driven by batches");
  }

  boolean has(String signal) {
    return own != null && own.has(signal);
  }

  Internals own() {
    if (own == null) {
      throw new PortException(
          "The model of module "
              + model.design().top()
              + " is not built to be looked into; open it by"
              + " CompiledDesign.withInternals().open()");
    }
    return own;
  }

  Internals internals() {
    return own != null ? own : caughtUp().inside().own();
  }

  long[] words(String signal) {
    Internals internals = internals();
    return internals.words(internals.find(signal));
  }

  private Dut caughtUp() {
    requireJournal();
    if (second == null) {
      second = model.withInternals().open(options);
      position = new Journal.Position();
    }
    journal.repeat(position, second.instance());
    return second;
  }

  Watch watchAll(LiveDesign instance, long first, int cycles) {
    List<Internals.Place> places = new ArrayList<>();
    int words = 0;
    for (Signal signal : own().signals()) {
      long more = signal.elements() * signal.words();
      boolean fits = (words + more) * Math.min(cycles, FEW_CYCLES) <= MOST_WORDS;
      if (signal.elements() <= MOST_ELEMENTS && fits) {
        words += (int) more;
        for (String name : PortLayout.elements(signal.path(), signal.unpacked())) {
          places.add(own.find(name));
        }
      }
    }
    int most = MOST_WORDS / Math.max(1, words);
    return new Watch(instance, places, first, Math.max(1, Math.min(cycles, most)));
  }

  Watch lookBack(long first, int cycles) {
    requireJournal();
    try (Dut again = model.withInternals().open(options)) {
      Watch watch = again.watchAll(first, cycles);
      journal.repeat(new Journal.Position(), again.instance());
      again.abandon();
      return watch;
    }
  }

  /** The signals that change for ever, of logic that did not settle. */
  List<String> oscillating() {
    requireJournal();
    return Oscillation.of(
        model,
        (probe, end) -> {
          try (Dut again = probe.open(options)) {
            journal.repeat(new Journal.Position(), again.instance());
            end.accept(again);
            again.abandon();
          }
        });
  }

  /** Every cycle from the opening on; nothing where there are too many, or it cannot be. */
  Trace fromStart(int most) {
    TraceRing rows = new TraceRing(model.columns(), driven, most);
    if (journal.gap().isEmpty() && journal.cycles() <= most) {
      try (Dut again = model.open(options)) {
        long[] cycle = {0};
        journal.repeat(again.instance(), ended -> rows.add(cycle[0]++, again.instance().slots()));
        again.abandon();
      }
    }
    return rows.trace();
  }

  private void requireJournal() {
    if (!journal.gap().isEmpty()) {
      throw new PortException(
          "The model of module "
              + model.design().top()
              + " cannot be run again to look into it, since "
              + journal.gap()
              + "; open it by CompiledDesign.withInternals().open()");
    }
  }

  void close() {
    if (second != null) {
      second.abandon(); // the first one runs them
      second.close();
    }
  }
}
