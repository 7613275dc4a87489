package dev.plumbline.cosim;

import com.sun.jna.Native;
import com.sun.jna.Pointer;
import dev.plumbline.toolchain.HostProcess;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.LongBuffer;
import java.nio.charset.StandardCharsets;

/** A model in this process. */
final class LocalDesign implements LiveDesign {
  /**
   * What the batch before had: each segment of a run has a DUT and a batch of its own, and memory
   * that the system has to find anew costs more than a thousand of its rows.
   */
  private static final ThreadLocal<Memory> SPARE = new ThreadLocal<>();

  private final NativeDesign code;
  private final Tiers tiers;
  private final Memory memory = memory(ControlBlock.BYTES);
  private final ControlBlock control = new ControlBlock(memory.bytes());
  private final Memory slots;
  private final Pointer handle;

  LocalDesign(CompiledDesign model, DutOptions options) {
    this.tiers = model.tiers();
    this.code = model.code();
    this.slots = memory(Math.max(1, model.columns().count()) * Long.BYTES);
    Memory texts = memory(options.texts().length);
    texts.bytes().put(options.texts());
    try {
      handle =
          code.open(
              memory.address(),
              slots.address(),
              options.seed(),
              options.initialState().code,
              options.flags(),
              texts.address());
    } finally {
      // The model has copies of its texts; until here they had to be there.
      java.lang.ref.Reference.reachabilityFence(texts);
    }
  }

  /** Whether the model could be made; if not, the control block says why. */
  boolean isOpen() {
    return handle != null;
  }

  @Override
  public ControlBlock control() {
    return control;
  }

  @Override
  public LongBuffer slots() {
    return slots.bytes().asLongBuffer();
  }

  @Override
  public Memory memory(int bytes) {
    Memory spare = SPARE.get();
    if (spare != null && spare.bytes().capacity() == bytes) {
      SPARE.remove();
      new Pointer(spare.address()).clear(bytes);
      return spare;
    }
    // A view of words has to begin on a multiple of their size.
    ByteBuffer buffer =
        ByteBuffer.allocateDirect(bytes + 2 * Long.BYTES)
            .alignedSlice(Long.BYTES)
            .slice(0, bytes)
            .order(ByteOrder.nativeOrder());
    return new Memory(buffer, Pointer.nativeValue(Native.getDirectBufferPointer(buffer)));
  }

  @Override
  public void release(Memory unused) {
    SPARE.set(unused);
  }

  @Override
  public void clock(int column, long halfPeriod) {
    code.clock(handle, column, halfPeriod);
  }

  @Override
  public void furtherClock(int column, long halfPeriod, long firstRise) {
    code.furtherClock(handle, column, halfPeriod, firstRise);
  }

  @Override
  public int cycle(long cycles) {
    return code.cycle(handle, cycles);
  }

  @Override
  public int settle() {
    return code.settle(handle);
  }

  @Override
  public int run(Memory columns, long capacity, long rows) {
    long start = System.nanoTime();
    int status = code.run(handle, columns.address(), capacity, rows);
    tiers.ran(System.nanoTime() - start);
    return status;
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
    long start = System.nanoTime();
    int status =
        code.stream(
            handle,
            columns.address(),
            capacity,
            rows,
            cases,
            valid,
            ready,
            byRow.address(),
            caseAtRow.address());
    tiers.ran(System.nanoTime() - start);
    return status;
  }

  @Override
  public int digest(Memory what, long cycles) {
    long start = System.nanoTime();
    int status = code.digest(handle, what.address(), cycles);
    tiers.ran(System.nanoTime() - start);
    return status;
  }

  @Override
  public int finalBlocks() {
    return code.finalBlocks(handle);
  }

  @Override
  public String signals() {
    Memory text = memory((int) code.signals(handle, slots.address(), 0));
    code.signals(handle, text.address(), text.bytes().capacity());
    return StandardCharsets.UTF_8.decode(text.bytes()).toString();
  }

  @Override
  public void keep(Memory everything) {
    code.keep(handle, everything.address());
  }

  @Override
  public void record(
      Memory list, int count, Memory columns, long capacity, long first, Memory rows) {
    code.record(handle, list.address(), count, columns.address(), capacity, first, rows.address());
  }

  @Override
  public String text() {
    return handle == null ? "" : code.text(handle);
  }

  @Override
  public HostProcess.Ending ending() {
    return new HostProcess.Ending(0);
  }

  @Override
  public void cancel(long progress) {
    code.cancel(memory.address(), progress);
  }

  @Override
  public void close() {
    if (handle != null) {
      code.close(handle);
    }
  }
}
