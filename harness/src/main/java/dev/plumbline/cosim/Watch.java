package dev.plumbline.cosim;

import dev.plumbline.rtl.Signal;
import java.nio.LongBuffer;
import java.util.ArrayList;
import java.util.List;

/**
 * Signals inside a DUT over some cycles, recorded while they are run, whichever way.
 *
 * <pre>{@code
 * Watch watch = dut.watch(List.of("gear.product"), dut.cyclesRun(), 100);
 * dut.cycles(100);
 * long[] product = watch.column(0, 0);
 * }</pre>
 *
 * <p>Values are those at the moment at which outputs are sampled: what registers have in the cycle,
 * not what they take over at its end.
 */
public final class Watch {
  private static final long MOST_BYTES = 1L << 30;

  private final List<Signal> signals = new ArrayList<>();
  private final List<String> names = new ArrayList<>();
  private final List<Integer> firstColumns = new ArrayList<>();
  private final long first;
  private final int capacity;
  private final LiveDesign.Memory columns;
  private final LiveDesign.Memory count;

  Watch(LiveDesign instance, List<Internals.Place> places, long first, int cycles) {
    int words = 0;
    for (Internals.Place place : places) {
      signals.add(place.signal());
      names.add(place.name());
      firstColumns.add(words);
      words += place.signal().words();
    }
    if (first < 0 || cycles < 1 || (long) words * cycles * Long.BYTES > MOST_BYTES) {
      throw new IllegalArgumentException(
          "A watch of "
              + places.size()
              + " signals over "
              + cycles
              + " cycles from cycle "
              + first
              + "; allowed is 1 cycle or more from cycle 0 or later, of 1 GB in all.");
    }
    this.first = first;
    this.capacity = cycles;
    this.columns = instance.memory(Math.max(1, words) * cycles * Long.BYTES);
    this.count = instance.memory(Long.BYTES);
    List<Long> order = Internals.order(places);
    LiveDesign.Memory list = instance.memory(Math.max(1, order.size()) * Long.BYTES);
    LongBuffer numbers = list.bytes().asLongBuffer();
    order.forEach(numbers::put);
    try {
      instance.record(list, places.size(), columns, cycles, first, count);
    } finally {
      java.lang.ref.Reference.reachabilityFence(list);
    }
  }

  /**
   * What is watched.
   *
   * @return in the order that was asked for
   */
  public List<Signal> signals() {
    return List.copyOf(signals);
  }

  /**
   * Their hierarchical names.
   *
   * @return in the order that was asked for; of elements of arrays with their indices
   */
  public List<String> names() {
    return List.copyOf(names);
  }

  /**
   * The first cycle.
   *
   * @return counted since the DUT was opened
   */
  public long firstCycle() {
    return first;
  }

  /**
   * How many cycles were recorded so far.
   *
   * @return 0 to what was asked for; with the one in which a DUT ended, where it came to sampling
   */
  public int rows() {
    return (int) count.bytes().getLong(0);
  }

  /**
   * What a signal had.
   *
   * @param signal its place in {@link #signals}
   * @param word which 64 bits, 0 the lowest
   * @return a copy, one value a recorded cycle, extended by sign or zero
   */
  public long[] column(int signal, int word) {
    long[] values = new long[rows()];
    columns.bytes().asLongBuffer().get((firstColumns.get(signal) + word) * capacity, values);
    return values;
  }
}
