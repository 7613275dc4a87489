package dev.plumbline.cosim;

import dev.plumbline.rtl.Signal;
import java.lang.ref.Cleaner;
import java.nio.LongBuffer;
import java.util.List;

/**
 * One running instance of a model.
 *
 * <pre>{@code
 * try (Dut dut = model.open()) {
 *   dut.set("in_x", 5);
 *   dut.cycle();
 *   long y = dut.get("out_y");
 *   Batch batch = dut.batch(1024);
 *   Arrays.setAll(batch.column("in_x"), row -> row);
 *   dut.run(batch, 1024);
 *   long first = batch.column("out_y")[0];
 * }
 * }</pre>
 *
 * <p>A cycle: the inputs are applied and the logic settles with the clock low; the outputs are
 * sampled, which is what a register would take over at the edge; the clock rises and the logic
 * settles. A design without a clock has one evaluation instead. An input keeps its value until it
 * is set again; at first it is zero. Values are 64-bit words, little end first, extended by sign
 * where the port is signed and by zero else.
 *
 * <p>Whatever the model does, the JVM goes on: an end of its own is a {@link DutEndedException}, a
 * call without progress a {@link DutHungException}. After either only {@link #close}, {@link #text}
 * and {@link #cyclesRun} are left. Threads may share it; their calls come one after the other.
 */
public final class Dut implements AutoCloseable {
  private static final Cleaner CLEANER = Cleaner.create();
  private static final int OK = 0;
  private static final int FINISH = 1;

  private final CompiledDesign model;
  private final DutOptions options;
  final PortColumns columns;
  private final LiveDesign instance;
  private final Cleaner.Cleanable cleanable;
  final boolean[] driven;
  private final LongBuffer slots;
  private final TraceRing ring;
  private final InsideView inside;
  private DutException end;
  private boolean closed;
  private boolean abandoned;

  /** What has to be freed; knows nothing of the Dut, so that one that is forgotten is found. */
  private record Held(LiveDesign instance, Runnable first, Runnable then) implements Runnable {
    @Override
    public void run() {
      first.run();
      then.run();
    }
  }

  Dut(CompiledDesign model, DutOptions options) {
    this.model = model;
    this.options = options;
    this.columns = model.columns();
    this.driven = new boolean[columns.count()];
    Clocking clocking = options.clocking().orElseGet(() -> Clocking.only(model.design()));
    clocking.signals().forEach(signal -> driven[clockColumn(signal)] = true);
    boolean isolated = options.isolated().orElse(!model.hazard().isEmpty());
    Held held = isolated ? isolated(model, options) : local(model, options);
    instance = held.instance();
    cleanable = CLEANER.register(this, held);
    slots = instance.slots();
    ring = new TraceRing(columns, driven);
    inside = new InsideView(model, options, instance, driven);
    List<Clocking.Signal> signals = clocking.signals();
    for (int i = 0; i < signals.size(); i++) {
      Clocking.Signal signal = signals.get(i);
      if (i == 0 && !clocking.hasRowsAtEveryRise()) {
        instance.clock(clockColumn(signal), signal.period());
      } else {
        instance.furtherClock(clockColumn(signal), signal.period(), 2L * signal.phase());
      }
    }
  }

  private static Held local(CompiledDesign model, DutOptions options) {
    LocalDesign instance = new LocalDesign(model, options);
    if (!instance.isOpen()) {
      throw Endings.notMade(model, options, instance);
    }
    // First the watch ends: nobody may cancel what is no longer there.
    return new Held(instance, Watchdog.watch(instance, options.timeout()), instance::close);
  }

  private static Held isolated(CompiledDesign model, DutOptions options) {
    IsolatedDesign instance = new IsolatedDesign(model, options.memory());
    // C++ of its own may not even end as it is freed.
    Held held = new Held(instance, instance::close, Watchdog.watch(instance, options.timeout()));
    int status = instance.open(model.file(), options);
    if (status != OK) {
      DutException end = Endings.of(model, options, instance, status);
      held.run();
      throw end;
    }
    return held;
  }

  private int clockColumn(Clocking.Signal signal) {
    PortColumns.Slice place = columns.find(signal.port());
    if (!place.isBit()) {
      throw new PortException(
          "Port \"" + signal.port() + "\" cannot be a clock; wanted is an input of one bit");
    }
    return place.first();
  }

  /**
   * Sets an input for the cycles to come.
   *
   * @param port an input, or an element of one such as {@code table[3]}
   * @param words its value; all elements in ascending order where it is a whole array
   * @throws PortException when there is no such input, it is driven as a clock, or the value does
   *     not fit: wrong number of words, or bits beyond the width that are not its sign (signed) or
   *     zero (unsigned)
   */
  public synchronized void set(String port, long... words) {
    check();
    PortColumns.Slice place = columns.find(port);
    if (!place.isInput()) {
      throw new PortException("Port \"" + port + "\" is no input and cannot be set; set an input");
    }
    if (driven[place.first()]) {
      throw new PortException(
          "Port \"" + port + "\" is driven as a clock and cannot be set; see Clocking.none()");
    }
    Values.check(place, words);
    for (int i = 0; i < words.length; i++) {
      slots.put(place.first() + i, words[i]);
    }
  }

  /**
   * What a port of at most 64 bits had when it was sampled last; for an input, what it was set to.
   *
   * @param port a port, or an element of one
   * @return the value, extended by sign where the port is signed and by zero else
   * @throws PortException when there is no such port, or it takes several words
   */
  public synchronized long get(String port) {
    check();
    PortColumns.Slice place = columns.find(port);
    if (place.count() != 1) {
      throw new PortException(
          "Port \"" + port + "\" takes " + place.count() + " words; getWords gives them all");
    }
    return slots.get(place.first());
  }

  /**
   * What a port had when it was sampled last; for an input, what it was set to.
   *
   * @param port a port, or an element of one
   * @return its words; all elements in ascending order where it is a whole array
   * @throws PortException when there is no such port
   */
  public synchronized long[] getWords(String port) {
    check();
    PortColumns.Slice place = columns.find(port);
    long[] words = new long[place.count()];
    slots.get(place.first(), words);
    return words;
  }

  /** Runs one cycle. */
  public void cycle() {
    cycles(1);
  }

  /**
   * Runs cycles with the inputs held.
   *
   * @param count how many, 0 or more
   */
  public synchronized void cycles(long count) {
    check();
    if (count < 0) {
      throw new IllegalArgumentException(count + " cycles; allowed is 0 or more.");
    }
    inside.cycles(slots, count);
    int status = instance.cycle(count);
    if (count > 0) {
      ring.add(instance.control().cycles() - (status == OK || status == FINISH ? 1 : 0), slots);
    }
    conclude(status);
  }

  /**
   * Applies the inputs and samples the outputs with the clock low: a cycle's half, which counts as
   * none.
   */
  public synchronized void settle() {
    check();
    inside.settle(slots);
    conclude(instance.settle());
  }

  /**
   * Makes columns for runs of many rows.
   *
   * @param rows how many at most, 1 or more
   * @return a batch for this DUT
   */
  public synchronized Batch batch(int rows) {
    check();
    return new Batch(this, instance, columns, driven, rows);
  }

  /**
   * What a signal inside the design, of at most 64 bits, had when outputs were sampled last: a
   * register then has what it took over a cycle before.
   *
   * <p>A model that was not built for it is run again, from its opening, in a probe build that is
   * made for it, and from then on beside this one: correct, but slow. {@link
   * CompiledDesign#withInternals} opens such a build at once.
   *
   * @param signal its hierarchical name, such as {@code gear.wheel.angle_q}, the top module's own
   *     first or left out; or an element of an array, such as {@code memory[3]}
   * @return the value, extended by sign where the signal is signed and by zero else
   * @throws PortException when there is no such signal, it takes several words or is an array, or
   *     the DUT cannot be run again because it was driven by batches
   */
  public synchronized long peek(String signal) {
    long[] words = peekWords(signal);
    if (words.length != 1) {
      throw new PortException(
          "Signal \"" + signal + "\" takes " + words.length + " words; peekWords gives them all");
    }
    return words[0];
  }

  /**
   * As {@link #peek}, of a signal of any width.
   *
   * @param signal its hierarchical name, or an element of an array
   * @return its words, little end first
   * @throws PortException as {@link #peek}
   */
  public synchronized long[] peekWords(String signal) {
    check();
    return inside.words(signal);
  }

  /**
   * The signals that {@link #peek} and {@link #watch} take.
   *
   * @return parents before children
   * @throws PortException when there are none, since the model is no probe build and cannot be run
   *     again
   */
  public synchronized List<Signal> signals() {
    open();
    return inside.internals().signals();
  }

  /**
   * Records signals inside the design in cycles to come; a watch before this one records no longer.
   *
   * @param signals hierarchical names, elements of arrays among them
   * @param firstCycle the first cycle to be recorded, as {@link #cyclesRun} counts
   * @param cycles how many, 1 or more
   * @return what will hold them
   * @throws PortException when there is no such signal, or the model is no probe build
   */
  public synchronized Watch watch(List<String> signals, long firstCycle, int cycles) {
    check();
    Internals internals = inside.own();
    return new Watch(instance, signals.stream().map(internals::find).toList(), firstCycle, cycles);
  }

  /**
   * Records all signals inside the design in cycles to come, but for arrays of more than 64
   * elements and what would take too much memory.
   *
   * @param firstCycle as {@link #watch(List, long, int)}
   * @param cycles how many at most
   * @return what will hold them
   * @throws PortException when the model is no probe build
   */
  public synchronized Watch watchAll(long firstCycle, int cycles) {
    check();
    return inside.watchAll(instance, firstCycle, cycles);
  }

  /**
   * Runs again what was driven by hand, in a probe build that is made for it, and records the
   * signals inside; also of a DUT that has ended or is closed.
   *
   * @param firstCycle the first cycle to be recorded
   * @param cycles how many at most
   * @return what was recorded
   * @throws PortException when the DUT cannot be run again because it was driven by batches, or
   *     through too many changes of its inputs
   */
  public synchronized Watch lookBack(long firstCycle, int cycles) {
    return inside.lookBack(firstCycle, cycles);
  }

  boolean mayLookInside() {
    return model.hasInternals();
  }

  boolean isInside(String signal) {
    return inside.has(signal);
  }

  /**
   * Runs rows of a batch in one call. Afterwards its output columns have what was sampled; also
   * after an exception, for the rows that were completed.
   *
   * @param batch a batch of this DUT
   * @param rows how many, from 0 to the batch's own
   * @return the number of rows run
   */
  public synchronized int run(Batch batch, int rows) {
    check();
    batch.requireOf(this, rows);
    inside.interrupt();
    batch.beginWatch();
    batch.toNative(slots, rows, rows);
    int status = instance.run(batch.memory(), batch.stride(), rows);
    return finish(batch, status, rows);
  }

  /**
   * Runs rows of a batch with a handshake: cases wait until they are taken.
   *
   * @param batch a batch of this DUT on which {@link Batch#handshake} was called
   * @param rows how many, from 0 to the batch's own
   * @param cases where cases end in their columns, from where they begin to the batch's rows
   * @return the number of rows run
   */
  public synchronized int run(Batch batch, int rows, int cases) {
    check();
    batch.requireOf(this, rows);
    batch.requireCases(cases);
    inside.interrupt();
    batch.beginWatch();
    batch.toNative(slots, rows, cases);
    instance.control().beginAt(batch.begin());
    int status =
        instance.stream(
            batch.memory(),
            batch.stride(),
            rows,
            cases,
            batch.valid(),
            batch.ready(),
            batch.byRow(),
            batch.caseMemory());
    batch.taken(instance.control().nextCase(), instance.control().rows());
    return finish(batch, status, cases);
  }

  private int finish(Batch batch, int status, int cases) {
    int ran = instance.control().rows();
    batch.fromNative(slots, ran, cases);
    conclude(status);
    return ran;
  }

  /** Turns a status into nothing or into the exception that ends this. */
  void conclude(int status) {
    if (status == OK) {
      return;
    }
    end = Endings.of(model, options, instance, status);
    throw end;
  }

  /**
   * What the model printed.
   *
   * @return the newest 64 KiB or more of it
   */
  public synchronized String text() {
    open();
    return DumpNotice.in(instance.text());
  }

  /**
   * The last cycles that were run by {@link #cycle} and {@link #cycles}; also of a DUT that has
   * ended or is closed. Designs whose ports have more than 1,024 words keep none.
   *
   * @return at most 64 rows
   */
  public synchronized Trace trace() {
    return ring.trace();
  }

  /**
   * How many cycles were completed since this was opened.
   *
   * @return cycles; rows for a design without a clock
   */
  public synchronized long cyclesRun() {
    open();
    return instance.control().cycles();
  }

  /**
   * How many {@code $error} calls were passed over when continuing on errors.
   *
   * @return the number
   */
  public synchronized long errorsPassedOver() {
    open();
    return instance.control().errors();
  }

  /** Runs no final blocks when it is closed: it may have ended. */
  void abandon() {
    abandoned = true;
  }

  LiveDesign instance() {
    return instance;
  }

  InsideView inside() {
    return inside;
  }

  private void open() {
    if (closed) {
      throw new IllegalStateException(
          "The model of \"" + model.design().top() + "\" is closed; open another one.");
    }
  }

  void check() {
    open();
    if (end != null) {
      throw end.again();
    }
  }

  /**
   * Runs the final blocks, unless the model has ended before, and frees it. Closing again does
   * nothing.
   *
   * @throws DutException when a final block fails; it is freed nevertheless
   */
  @Override
  public synchronized void close() {
    if (closed) {
      return;
    }
    closed = true;
    try {
      DumpNotice.tell(model, instance);
      if (end == null && !abandoned) {
        int status = instance.finalBlocks();
        // A final block that calls $finish has got what it asks for.
        conclude(status == FINISH ? OK : status);
      }
    } finally {
      inside.close();
      cleanable.clean();
    }
  }
}
