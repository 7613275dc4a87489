package dev.plumbline.cosim;

import com.sun.jna.Function;
import com.sun.jna.Library;
import com.sun.jna.Memory;
import com.sun.jna.NativeLibrary;
import com.sun.jna.Pointer;
import dev.plumbline.toolchain.ToolchainException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;

/**
 * A model's shared library in this process: the calls of entry.cpp and runtime.cpp under their
 * names there.
 */
final class NativeDesign {
  // RTLD_NOW without RTLD_GLOBAL: a model must not see the symbols of another.
  private static final Map<String, ?> LOCAL = Map.of(Library.OPTION_OPEN_FLAGS, 2);

  // Never unloaded: code of a thread that once ran a model may be called as that thread ends.
  private static final Map<Path, NativeDesign> LOADED = new ConcurrentHashMap<>();

  private final Function open;
  private final Function clock;
  private final Function furtherClock;
  private final Function cycle;
  private final Function settle;
  private final Function run;
  private final Function stream;
  private final Function digest;
  private final Function finalBlocks;
  private final Function close;
  private final Function cancel;
  private final Function text;
  private final NativeLibrary library;

  private NativeDesign(Path file) {
    library = library(file);
    open = library.getFunction("plumb_open");
    clock = library.getFunction("plumb_clock");
    furtherClock = library.getFunction("plumb_further_clock");
    cycle = library.getFunction("plumb_cycle");
    settle = library.getFunction("plumb_settle");
    run = library.getFunction("plumb_run");
    stream = library.getFunction("plumb_stream");
    digest = library.getFunction("plumb_digest");
    finalBlocks = library.getFunction("plumb_final");
    close = library.getFunction("plumb_close");
    cancel = library.getFunction("plumb_cancel");
    text = library.getFunction("plumb_text");
  }

  static NativeLibrary library(Path file) {
    try {
      return NativeLibrary.getInstance(file.toString(), LOCAL);
    } catch (UnsatisfiedLinkError e) {
      throw ToolchainException.cannotRun(file, e);
    }
  }

  static NativeDesign load(Path file) {
    return LOADED.computeIfAbsent(file, NativeDesign::new);
  }

  /** Returns the handle, or null when the model cannot be made. */
  Pointer open(long control, long slots, long seed, int initialState, int flags, long texts) {
    return open.invokePointer(new Object[] {control, slots, seed, initialState, flags, texts});
  }

  void clock(Pointer handle, int column, long halfPeriod) {
    clock.invokeVoid(new Object[] {handle, column, halfPeriod});
  }

  void furtherClock(Pointer handle, int column, long halfPeriod, long firstRise) {
    furtherClock.invokeVoid(new Object[] {handle, column, halfPeriod, firstRise});
  }

  int cycle(Pointer handle, long cycles) {
    return cycle.invokeInt(new Object[] {handle, cycles});
  }

  int settle(Pointer handle) {
    return settle.invokeInt(new Object[] {handle});
  }

  int run(Pointer handle, long columns, long capacity, long rows) {
    return run.invokeInt(new Object[] {handle, columns, capacity, rows});
  }

  int stream(
      Pointer handle,
      long columns,
      long capacity,
      long rows,
      long cases,
      int valid,
      int ready,
      long byRow,
      long caseAtRow) {
    return stream.invokeInt(
        new Object[] {handle, columns, capacity, rows, cases, valid, ready, byRow, caseAtRow});
  }

  long signals(Pointer handle, long to, long size) {
    return library.getFunction("plumb_signals").invokeLong(new Object[] {handle, to, size});
  }

  void keep(Pointer handle, long to) {
    library.getFunction("plumb_keep").invokeVoid(new Object[] {handle, to});
  }

  void record(
      Pointer handle, long list, long count, long columns, long capacity, long first, long rows) {
    library
        .getFunction("plumb_record")
        .invokeVoid(new Object[] {handle, list, count, columns, capacity, first, rows});
  }

  int digest(Pointer handle, long what, long cycles) {
    return digest.invokeInt(new Object[] {handle, what, cycles});
  }

  int finalBlocks(Pointer handle) {
    return finalBlocks.invokeInt(new Object[] {handle});
  }

  void close(Pointer handle) {
    close.invokeVoid(new Object[] {handle});
  }

  /** Ends the call under way, unless it has made progress since. */
  void cancel(long control, long progress) {
    cancel.invokeVoid(new Object[] {control, progress});
  }

  String text(Pointer handle) {
    // Freed at once, unlike a direct buffer: whoever asks often would wait for the collector.
    try (Memory memory = new Memory(1 << 18)) {
      long length = text.invokeLong(new Object[] {handle, memory, memory.size()});
      return new String(memory.getByteArray(0, (int) length), StandardCharsets.UTF_8);
    }
  }
}
