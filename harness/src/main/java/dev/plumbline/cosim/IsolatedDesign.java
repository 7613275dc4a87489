package dev.plumbline.cosim;

import dev.plumbline.toolchain.HostProcess;
import dev.plumbline.toolchain.HostProcess.GoneException;
import java.lang.ref.Cleaner;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.LongBuffer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Queue;
import java.util.concurrent.ConcurrentLinkedQueue;

/**
 * A model in a process of its own. Its memory is laid out as control block, text, slots; each batch
 * has memory of its own. Every call is one command to the process and one reply.
 */
final class IsolatedDesign implements LiveDesign {
  // As host.cpp numbers them.
  private static final int UNMAP = 1;
  private static final int LOAD = 2;
  private static final int OPEN = 3;
  private static final int CLOCK = 4;
  private static final int FURTHER_CLOCK = 5;
  private static final int CYCLE = 6;
  private static final int SETTLE = 7;
  private static final int RUN = 8;
  private static final int STREAM = 9;
  private static final int FINAL = 10;
  private static final int CLOSE = 11;
  private static final int TEXT = 12;
  private static final int SIGNALS = 13;
  private static final int KEEP = 14;
  private static final int RECORD = 15;
  private static final int DIGEST = 16;

  private static final int TEXT_AT = (ControlBlock.BYTES + 63) / 64 * 64;
  private static final int TEXT_BYTES = 1 << 18;
  private static final int SLOTS_AT = TEXT_AT + TEXT_BYTES;
  private static final Cleaner CLEANER = Cleaner.create();

  private final Tiers tiers;
  private final HostProcess process;
  private final Queue<Long> unused = new ConcurrentLinkedQueue<>();
  private final ByteBuffer bytes;
  private final ControlBlock control;
  private final int columns;
  private final long address;
  private long handle;
  private boolean gone;
  private HostProcess.Ending ending = new HostProcess.Ending(0);
  private volatile long cancelled = -1;

  IsolatedDesign(CompiledDesign model, int megabytes) {
    tiers = model.tiers();
    columns = model.columns().count();
    process = HostProcess.start(megabytes);
    Memory memory = memory(SLOTS_AT + Math.max(1, columns) * Long.BYTES);
    bytes = memory.bytes();
    control = new ControlBlock(bytes);
    address = memory.address();
  }

  /** Loads and opens the model; the watch is on already, since C code may do anything here. */
  int open(Path library, DutOptions options) {
    Memory name = text(library.toString().getBytes(StandardCharsets.UTF_8));
    Memory texts = text(options.texts());
    try {
      call(LOAD, address, address + TEXT_AT, TEXT_BYTES, name.address());
      handle =
          call(
              OPEN,
              address + SLOTS_AT,
              options.seed(),
              options.initialState().code,
              options.flags(),
              texts.address());
    } finally {
      java.lang.ref.Reference.reachabilityFence(name);
      java.lang.ref.Reference.reachabilityFence(texts);
    }
    return gone ? status() : handle == 0 ? INTERNAL : OK;
  }

  private Memory text(byte[] text) {
    Memory memory = memory(text.length + 1);
    memory.bytes().put(0, text);
    return memory;
  }

  boolean isOpen() {
    return handle != 0 && !gone;
  }

  @Override
  public ControlBlock control() {
    return control;
  }

  @Override
  public LongBuffer slots() {
    return bytes
        .slice(SLOTS_AT, Math.max(1, columns) * Long.BYTES)
        .order(ByteOrder.nativeOrder())
        .asLongBuffer();
  }

  @Override
  public synchronized Memory memory(int size) {
    for (Long place = unused.poll(); place != null; place = unused.poll()) {
      call(UNMAP, place);
    }
    try {
      HostProcess.Shared shared = process.map(size);
      long place = shared.address();
      Queue<Long> queue = unused;
      CLEANER.register(shared.bytes(), () -> queue.add(place));
      return new Memory(shared.bytes(), place);
    } catch (GoneException e) {
      gone = true;
      // A batch may still be asked for; the next run reports what happened.
      return new Memory(ByteBuffer.allocate(size).order(ByteOrder.nativeOrder()), 0);
    }
  }

  /** Has the process do something; {@link #CRASHED} when it is gone. */
  private synchronized long call(int function, long... arguments) {
    if (gone) {
      return status();
    }
    boolean watched = control != null;
    if (watched) {
      control.setActive(true);
    }
    try {
      return process.call(function, arguments);
    } catch (GoneException e) {
      gone = true;
      ending = process.ending();
      return status();
    } finally {
      if (watched) {
        control.setActive(false);
      }
    }
  }

  private int timed(int function, long... arguments) {
    long start = System.nanoTime();
    int status = (int) call(function, arguments);
    tiers.ran(System.nanoTime() - start);
    return status;
  }

  private int status() {
    return process.killed() ? CANCELLED : CRASHED;
  }

  @Override
  public void clock(int column, long halfPeriod) {
    call(CLOCK, handle, column, halfPeriod);
  }

  @Override
  public void furtherClock(int column, long halfPeriod, long firstRise) {
    call(FURTHER_CLOCK, handle, column, halfPeriod, firstRise);
  }

  @Override
  public int cycle(long cycles) {
    return (int) call(CYCLE, handle, cycles);
  }

  @Override
  public int settle() {
    return (int) call(SETTLE, handle);
  }

  @Override
  public int run(Memory columns, long capacity, long rows) {
    return timed(RUN, handle, columns.address(), capacity, rows);
  }

  @Override
  public int stream(
      Memory columns,
      long capacity,
      long rows,
      long cases,
      int valid,
      int ready,
      Memory byRow,
      Memory caseAtRow) {
    return timed(
        STREAM,
        handle,
        columns.address(),
        capacity,
        rows,
        cases,
        valid,
        ready,
        byRow.address(),
        caseAtRow.address());
  }

  @Override
  public int digest(Memory what, long cycles) {
    return timed(DIGEST, handle, what.address(), cycles);
  }

  @Override
  public int finalBlocks() {
    return (int) call(FINAL, handle);
  }

  @Override
  public String signals() {
    Memory text = memory(Math.max(1, (int) call(SIGNALS, handle, address, 0)));
    call(SIGNALS, handle, text.address(), text.bytes().capacity());
    byte[] bytes = new byte[text.bytes().capacity()];
    text.bytes().get(0, bytes);
    return new String(bytes, StandardCharsets.UTF_8);
  }

  @Override
  public void keep(Memory everything) {
    call(KEEP, handle, everything.address());
  }

  @Override
  public void record(
      Memory list, int count, Memory columns, long capacity, long first, Memory rows) {
    call(RECORD, handle, list.address(), count, columns.address(), capacity, first, rows.address());
  }

  @Override
  public String text() {
    int length = gone || handle == 0 ? control.reported() : (int) call(TEXT, handle);
    byte[] text = new byte[gone ? control.reported() : length];
    bytes.get(TEXT_AT, text);
    return new String(text, StandardCharsets.UTF_8) + process.printed();
  }

  @Override
  public HostProcess.Ending ending() {
    return ending;
  }

  @Override
  public void cancel(long progress) {
    if (cancelled == progress) {
      process.kill();
    } else {
      cancelled = progress;
      process.interrupt();
    }
  }

  @Override
  public void close() {
    if (isOpen()) {
      call(CLOSE, handle);
    }
    process.close();
  }
}
