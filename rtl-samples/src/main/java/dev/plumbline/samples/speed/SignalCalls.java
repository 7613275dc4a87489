package dev.plumbline.samples.speed;

import com.sun.jna.Function;
import com.sun.jna.Library;
import com.sun.jna.NativeLibrary;
import com.sun.jna.Pointer;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import dev.plumbline.stimulus.RandomStream;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;

/** The way not to do it, for scale: a JNA call of its own for every signal of every cycle. */
final class SignalCalls implements AutoCloseable {
  // RTLD_NOW without RTLD_GLOBAL: one stock library must not see the symbols of another.
  private static final Map<String, ?> LOCAL = Map.of(Library.OPTION_OPEN_FLAGS, 2);

  private final NativeLibrary library;
  private final Function set;
  private final Function get;
  private final Function settle;
  private final Pointer model;
  private final List<Port> ports;

  SignalCalls(Path file, Design design) {
    library = NativeLibrary.getInstance(file.toString(), LOCAL);
    set = library.getFunction("signals_set");
    get = library.getFunction("signals_get");
    settle = library.getFunction("signals_settle");
    model = library.getFunction("signals_open").invokePointer(new Object[0]);
    ports = design.ports();
  }

  /** Gives cycles a second. */
  double run(long cycles) {
    RandomStream stream = RandomStream.of(7);
    int clock = index("clk");
    long sum = 0;
    long start = System.nanoTime();
    for (long cycle = 0; cycle < cycles; cycle++) {
      for (int i = 0; i < ports.size(); i++) {
        if (StockModel.isData(ports.get(i))) {
          set(i, stream.next() & StockModel.mask(ports.get(i)));
        }
      }
      set(clock, 0);
      settle.invokeVoid(new Object[] {model});
      for (int i = 0; i < ports.size(); i++) {
        if (ports.get(i).direction() == Port.Direction.OUTPUT) {
          sum += get.invokeLong(new Object[] {model, i});
        }
      }
      set(clock, 1);
      settle.invokeVoid(new Object[] {model});
    }
    double seconds = (System.nanoTime() - start) / 1e9;
    if (sum == 42) {
      System.out.println(); // the sum is used
    }
    return cycles / seconds;
  }

  private void set(int port, long value) {
    set.invokeVoid(new Object[] {model, port, value});
  }

  private int index(String name) {
    for (int i = 0; i < ports.size(); i++) {
      if (ports.get(i).name().equals(name)) {
        return i;
      }
    }
    throw new IllegalArgumentException("no port " + name);
  }

  @Override
  public void close() {
    // The library stays: Verilator's run-time keeps thread-local state in it.
  }
}
