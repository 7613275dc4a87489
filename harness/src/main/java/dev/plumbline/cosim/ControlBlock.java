package dev.plumbline.cosim;

import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;

/**
 * The memory through which a running model reports how far it is; {@code struct Control} of plumb.h
 * has the same layout. It belongs to Java, so that the watchdog may read it at any time.
 */
final class ControlBlock {
  private static final VarHandle WORD =
      MethodHandles.byteBufferViewVarHandle(long[].class, ByteOrder.nativeOrder());

  private static final int ACTIVE = 0;
  private static final int PROGRESS = 8;
  private static final int CYCLES = 24;
  private static final int ROWS = 32;
  private static final int ACCEPTED = 40;
  private static final int ERRORS = 48;
  private static final int LINE = 56;
  private static final int FILE = 64;
  private static final int FILE_BYTES = 1024;
  private static final int MESSAGE = FILE + FILE_BYTES;
  private static final int MESSAGE_BYTES = 4096;
  private static final int REPORTED = MESSAGE + MESSAGE_BYTES;

  /** How much memory it takes. */
  static final int BYTES = REPORTED + 8;

  private final ByteBuffer memory;

  /** Makes it of memory that is all zero and begins on a multiple of eight. */
  ControlBlock(ByteBuffer memory) {
    this.memory = memory;
  }

  /** Says that a call is under way, or no longer. */
  void setActive(boolean active) {
    WORD.setVolatile(memory, ACTIVE, active ? 1L : 0L);
  }

  /** How many bytes of text were left as a signal came. */
  int reported() {
    return (int) memory.getLong(REPORTED);
  }

  /** Whether a call is under way. */
  boolean active() {
    return (long) WORD.getVolatile(memory, ACTIVE) != 0;
  }

  /** Grows with every call and row. */
  long progress() {
    return (long) WORD.getVolatile(memory, PROGRESS);
  }

  /** Rows completed since the model was opened. */
  long cycles() {
    return memory.getLong(CYCLES);
  }

  /** Rows completed in the latest call. */
  int rows() {
    return (int) memory.getLong(ROWS);
  }

  /** The case after the last one taken in the latest call with a handshake. */
  int nextCase() {
    return (int) memory.getLong(ACCEPTED);
  }

  /** Says with which case the next such call begins. */
  void beginAt(int place) {
    memory.putLong(ACCEPTED, place);
  }

  /** {@code $error} calls passed over. */
  long errors() {
    return memory.getLong(ERRORS);
  }

  int line() {
    return (int) memory.getLong(LINE);
  }

  String file() {
    return text(FILE, FILE_BYTES);
  }

  String message() {
    return text(MESSAGE, MESSAGE_BYTES);
  }

  private String text(int at, int size) {
    byte[] bytes = new byte[size];
    memory.get(at, bytes);
    int end = 0;
    while (end < size && bytes[end] != 0) {
      end++;
    }
    return new String(bytes, 0, end, StandardCharsets.UTF_8);
  }
}
