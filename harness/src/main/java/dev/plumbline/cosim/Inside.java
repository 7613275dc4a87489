package dev.plumbline.cosim;

import java.nio.LongBuffer;

/**
 * What a DUT knows of the signals inside its model: directly where that is a probe build, else by a
 * second model that is a probe build and is driven alike.
 */
final class Inside {
  private final CompiledDesign model;
  private final DutOptions options;
  private final boolean[] inputs;
  private final Journal journal;
  private Internals own; // of a probe build
  private Dut second;
  private Journal.Position position;

  Inside(CompiledDesign model, DutOptions options, LiveDesign instance, boolean[] driven) {
    this.model = model;
    this.options = options;
    this.inputs = new boolean[driven.length];
    for (PortColumns.Slice place : model.columns().ports()) {
      for (int i = 0; i < place.count(); i++) {
        inputs[place.first() + i] = place.isInput() && !driven[place.first()];
      }
    }
    this.journal = new Journal(driven.length);
    if (model.hasInternals()) {
      own = new Internals(model, instance);
      journal.interrupt("it is a probe build already");
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
    if (!journal.gap().isEmpty()) {
      throw new PortException(
          "The model of module "
              + model.design().top()
              + " cannot be run again to look into it, since "
              + journal.gap()
              + "; open it by CompiledDesign.withInternals().open()");
    }
    if (second == null) {
      second = model.withInternals().open(options);
      position = new Journal.Position();
    }
    journal.repeat(position, second.instance());
    return second;
  }

  void close() {
    if (second != null) {
      second.close();
    }
  }
}
