package dev.plumbline.cosim;

import dev.plumbline.toolchain.HostProcess;
import java.nio.ByteBuffer;
import java.nio.LongBuffer;

/**
 * One open model, wherever it runs: what {@link Dut} asks of it. Calls give a status, which class
 * {@link Dut} and {@code plumb.h} number alike, and come one at a time; only {@link #cancel} comes
 * from another thread.
 */
interface LiveDesign {
  /** The process of an isolated model is gone; the one status that no model gives itself. */
  int CRASHED = 10;

  /** The call did what it was asked. */
  int OK = 0;

  /** The call was ended by its timeout. */
  int CANCELLED = 8;

  /** A fault of the shim itself. */
  int INTERNAL = 9;

  /**
   * Memory that Java and the model have.
   *
   * @param bytes it, all zero at first
   * @param address where the model has it
   */
  record Memory(ByteBuffer bytes, long address) {}

  /** Where the model reports how far it is. */
  ControlBlock control();

  /** A word for each column: what single cycles apply and sample. */
  LongBuffer slots();

  /** Makes memory for the columns of a batch; freed when nobody has it any more. */
  Memory memory(int bytes);

  /** Takes back memory that neither Java nor a model uses any more, for another of its size. */
  default void release(Memory memory) {}

  void clock(int column, long halfPeriod);

  void furtherClock(int column, long halfPeriod, long firstRise);

  int cycle(long cycles);

  int settle();

  int run(Memory columns, long capacity, long rows);

  int stream(
      Memory columns,
      long capacity,
      long rows,
      long cases,
      int valid,
      int ready,
      Memory byRow,
      Memory caseAtRow);

  /** Runs cycles on inputs drawn at random, as class DigestRun lays it out. */
  int digest(Memory what, long cycles);

  int finalBlocks();

  /** Of a probe build: a line for each signal, as class Internals reads them. */
  String signals();

  /** Of a probe build: where everything is copied to at the last row of each call. */
  void keep(Memory everything);

  /**
   * Of a probe build: what is recorded from a cycle on, four words for each column.
   *
   * @param rows gets the number of rows recorded
   */
  void record(Memory list, int count, Memory columns, long capacity, long first, Memory rows);

  /** What the model printed. */
  String text();

  /** How the process of a model that crashed came to its end. */
  HostProcess.Ending ending();

  /** Ends the call under way, unless it has made progress since. */
  void cancel(long progress);

  /** Frees it. */
  void close();
}
