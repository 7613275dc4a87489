package dev.plumbline.cosim;

import java.nio.ByteOrder;
import java.nio.LongBuffer;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;

/**
 * Drives a DUT with seeded random inputs and folds what it gives into a digest, without leaving
 * native code: as quick as a bare C++ loop that does the same.
 *
 * <pre>{@code
 * DigestRun run = DigestRun.of(dut, 1, "rst");
 * dut.set("rst", 1);
 * run.run(8);
 * dut.set("rst", 0);
 * run.run(1_000_000);
 * long digest = run.digest();
 * }</pre>
 *
 * <p>The digest is public, so that a bench in any language can arrive at the same one. Each cycle
 * the inputs in the order of the port list, arrays by ascending index, take a word for each 64 bits
 * of their width from SplitMix64 (Steele, Lea, Flood 2014), least significant word first, masked to
 * the width. What is sampled of outputs and inouts is folded in the same order, each word by its
 * eight bytes, zero-extended and little end first, into 64-bit FNV-1a (RFC 9923). Clocks, and what
 * is held, are not drawn. Belongs to one DUT.
 */
public final class DigestRun {
  private static final long BASIS = 0xCBF29CE484222325L;

  // As struct DigestRun of plumb.h has them: two words, then a byte for each column.
  private static final int STATE = 0;
  private static final int DIGEST = 1;
  private static final int HELD = 2 * Long.BYTES;

  private final Dut dut;
  private final List<PortColumns.Slice> drawn = new ArrayList<>();
  private final LiveDesign.Memory memory;
  private final LongBuffer words;

  private DigestRun(Dut dut, long seed, Set<String> held) {
    this.dut = dut;
    this.memory = dut.instance().memory(HELD + dut.columns.count());
    this.words = memory.bytes().order(ByteOrder.nativeOrder()).asLongBuffer();
    words.put(STATE, seed);
    words.put(DIGEST, BASIS);
    for (PortColumns.Slice place : dut.columns.ports()) {
      if (place.isInput()) {
        boolean isHeld = dut.driven[place.first()] || held.contains(place.name());
        memory.bytes().put(HELD + place.first(), (byte) (isHeld ? 1 : 0));
        drawn.add(place);
      }
    }
  }

  /**
   * Begins a run.
   *
   * @param dut which is driven
   * @param seed any value
   * @param held inputs that keep what {@link Dut#set} gives them, such as a reset
   * @return a run of no cycles yet
   * @throws PortException when there is no such port, or it is no input
   */
  public static DigestRun of(Dut dut, long seed, String... held) {
    synchronized (dut) {
      dut.check();
      for (String port : held) {
        if (!dut.columns.has(port) || !dut.columns.find(port).isInput()) {
          throw new PortException(
              "Port \"" + port + "\" is no input and cannot be held; name an input of the design");
        }
      }
      return new DigestRun(dut, seed, Set.of(held));
    }
  }

  /**
   * Runs cycles, after those that were run before.
   *
   * @param cycles how many, 0 or more
   * @throws DutEndedException when the DUT ends itself; by {@code $finish} the cycle in which it
   *     did still counts, and {@link #digest} has it
   */
  public void run(long cycles) {
    synchronized (dut) {
      dut.check();
      if (cycles < 0) {
        throw new IllegalArgumentException(cycles + " cycles; allowed is 0 or more.");
      }
      dut.inside().interrupt();
      int status = dut.instance().digest(memory, cycles);
      LongBuffer slots = dut.instance().slots();
      drawn.forEach(place -> Values.trim(place, slots));
      dut.conclude(status);
    }
  }

  /**
   * The digest of all cycles so far.
   *
   * @return 64 bits; the hash of nothing where none were run
   */
  public long digest() {
    synchronized (dut) {
      return words.get(DIGEST);
    }
  }
}
