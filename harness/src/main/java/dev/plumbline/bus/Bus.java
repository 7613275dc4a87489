package dev.plumbline.bus;

import dev.plumbline.cosim.Dut;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/**
 * Reads and writes registers of a DUT over ports that are named, one transfer after the other.
 *
 * <pre>{@code
 * Bus bus = Bus.of(dut).withAddress("adr").withData("wdat", "rdat")
 *     .withStrobe("sel", "we").withAcknowledge("ack");
 * bus.write(0x10, 5);
 * long status = bus.read(0x14);
 * }</pre>
 *
 * <p>A transfer drives address, data and strobes for a cycle, and for as many more as the
 * acknowledge stays low; between transfers the strobes are 0. Without an acknowledge a transfer has
 * one cycle, and what is read is sampled in it or some cycles later ({@link #withReadAfter}). Each
 * {@code with} gives another bus over the same DUT, with a log of its own. Not for several threads.
 */
public final class Bus {
  private static final int USUAL_TIMEOUT = 1000;
  private static final int MOST_KEPT = 10_000;

  private enum Role {
    ADDRESS,
    WRITE_DATA,
    READ_DATA,
    STROBE,
    WRITE_ENABLE,
    READ_STROBE,
    WRITE_STROBE,
    ACKNOWLEDGE,
    ERROR
  }

  /** Looks on, cycle by cycle. */
  interface Onlooker {
    /** Before a cycle, the inputs of which stand but for those that the onlooker sets. */
    void before();

    /** After it. */
    void after();
  }

  private final Dut dut;
  private final Map<Role, String> ports;
  private final int readAfter;
  private final boolean strobesOnce;
  private final int timeout;
  private final Onlooker onlooker; // null for nobody
  private final Deque<Transfer> log = new ArrayDeque<>();

  private Bus(
      Dut dut,
      Map<Role, String> ports,
      int readAfter,
      boolean strobesOnce,
      int timeout,
      Onlooker onlooker) {
    this.dut = dut;
    this.ports = ports;
    this.readAfter = readAfter;
    this.strobesOnce = strobesOnce;
    this.timeout = timeout;
    this.onlooker = onlooker;
  }

  /**
   * A bus without ports.
   *
   * @param dut what is driven
   * @return the bus, to be given ports
   */
  public static Bus of(Dut dut) {
    return new Bus(dut, Map.of(), 0, false, USUAL_TIMEOUT, null);
  }

  private Bus with(Map<Role, String> more) {
    Map<Role, String> all = new EnumMap<>(Role.class);
    all.putAll(ports);
    all.putAll(more);
    return new Bus(dut, all, readAfter, strobesOnce, timeout, onlooker);
  }

  /**
   * Names the port of the address.
   *
   * @param port an input
   * @return another bus
   */
  public Bus withAddress(String port) {
    return with(Map.of(Role.ADDRESS, port));
  }

  /**
   * Names the ports of data, up to 64 bits each.
   *
   * @param writePort an input
   * @param readPort an output
   * @return another bus
   */
  public Bus withData(String writePort, String readPort) {
    return with(Map.of(Role.WRITE_DATA, writePort, Role.READ_DATA, readPort));
  }

  /**
   * Names a strobe that is 1 in every transfer, and the port that tells a write from a read.
   *
   * @param strobePort an input, 1 in a transfer
   * @param writeEnablePort an input, 1 in one that writes
   * @return another bus
   */
  public Bus withStrobe(String strobePort, String writeEnablePort) {
    return with(Map.of(Role.STROBE, strobePort, Role.WRITE_ENABLE, writeEnablePort));
  }

  /**
   * Names a strobe for reads and one for writes.
   *
   * @param readPort an input, 1 in a transfer that reads
   * @param writePort an input, 1 in one that writes
   * @return another bus
   */
  public Bus withStrobes(String readPort, String writePort) {
    return with(Map.of(Role.READ_STROBE, readPort, Role.WRITE_STROBE, writePort));
  }

  /**
   * Names the port that ends a transfer, be it called acknowledge or ready: the cycle in which it
   * is sampled at 1 is the last, and what is read is sampled in it.
   *
   * @param port an output of one bit
   * @return another bus
   */
  public Bus withAcknowledge(String port) {
    return with(Map.of(Role.ACKNOWLEDGE, port));
  }

  /**
   * Names the port that says that a transfer is refused. It is sampled in the cycle in which the
   * transfer is acknowledged; in its first one, where nothing acknowledges it.
   *
   * @param port an output of one bit, 1 for an error
   * @return another bus
   */
  public Bus withError(String port) {
    return with(Map.of(Role.ERROR, port));
  }

  /** The same bus, with somebody who looks on. */
  Bus watchedBy(Onlooker who) {
    return new Bus(dut, ports, readAfter, strobesOnce, timeout, who);
  }

  Dut dut() {
    return dut;
  }

  boolean tellsErrors() {
    return ports.containsKey(Role.ERROR);
  }

  /**
   * Has strobes 1 in the first cycle of a transfer alone; address and data stay.
   *
   * @return another bus
   */
  public Bus withStrobeOnce() {
    return new Bus(dut, ports, readAfter, true, timeout, onlooker);
  }

  /**
   * Samples what is read some cycles after its strobe, where nothing acknowledges it.
   *
   * @param cycles 0 (the default) or more
   * @return another bus
   */
  public Bus withReadAfter(int cycles) {
    if (cycles < 0) {
      throw new IllegalArgumentException(
          "A read cannot be sampled " + cycles + " cycles later; 0 or more are allowed.");
    }
    return new Bus(dut, ports, cycles, strobesOnce, timeout, onlooker);
  }

  /**
   * Sets how long a transfer may wait.
   *
   * @param cycles 1 or more; 1000 unless set
   * @return another bus
   */
  public Bus withTimeout(int cycles) {
    if (cycles < 1) {
      throw new IllegalArgumentException(
          "A transfer cannot end within " + cycles + " cycles; 1 or more are allowed.");
    }
    return new Bus(dut, ports, readAfter, strobesOnce, cycles, onlooker);
  }

  /**
   * Writes.
   *
   * @param address the address
   * @param data up to 64 bits
   * @throws BusException when nothing acknowledges it in time
   */
  public void write(long address, long data) {
    require(ports.get(Role.WRITE_DATA), "data to be written", "withData(...)");
    transfer(true, address, data);
  }

  /**
   * Reads.
   *
   * @param address the address
   * @return up to 64 bits, as {@link Dut#get} gives them
   * @throws BusException when nothing acknowledges it in time
   */
  public long read(long address) {
    require(ports.get(Role.READ_DATA), "data to be read", "withData(...)");
    return transfer(false, address, 0);
  }

  /**
   * Runs cycles without a transfer.
   *
   * @param cycles 0 or more
   */
  public void idle(long cycles) {
    strobe(false, false);
    step(cycles);
  }

  /**
   * The latest transfers, at most ten thousand.
   *
   * @return the oldest first
   */
  public List<Transfer> log() {
    return new ArrayList<>(log);
  }

  Transfer latest() {
    return log.getLast();
  }

  private long transfer(boolean isWrite, long address, long data) {
    require(ports.get(Role.ADDRESS), "an address", "withAddress(...)");
    require(
        ports.get(Role.STROBE) != null
            ? ports.get(Role.STROBE)
            : isWrite ? ports.get(Role.WRITE_STROBE) : ports.get(Role.READ_STROBE),
        "a strobe",
        "withStrobe(...) or withStrobes(...)");
    long began = dut.cyclesRun();
    dut.set(ports.get(Role.ADDRESS), address);
    if (isWrite) {
      dut.set(ports.get(Role.WRITE_DATA), data);
    }
    strobe(!isWrite, isWrite);
    step(1);
    if (ports.get(Role.ACKNOWLEDGE) != null) {
      await(isWrite, address, began);
    }
    long sampled = data;
    boolean refused = ports.containsKey(Role.ERROR) && dut.get(ports.get(Role.ERROR)) != 0;
    if (!isWrite) {
      if (ports.get(Role.ACKNOWLEDGE) == null && readAfter > 0) {
        strobe(false, false);
        step(readAfter);
      }
      sampled = dut.get(ports.get(Role.READ_DATA));
    }
    strobe(false, false);
    keep(new Transfer(began, isWrite, address, sampled, dut.cyclesRun() - began, refused));
    return sampled;
  }

  private void await(boolean isWrite, long address, long began) {
    while (dut.get(ports.get(Role.ACKNOWLEDGE)) == 0) {
      long waited = dut.cyclesRun() - began;
      if (waited >= timeout) {
        strobe(false, false);
        throw new BusException(
            String.format(
                Locale.ROOT,
                "The %s 0x%x that began in cycle %d was not acknowledged by %s in %d cycles; up to"
                    + " %d are allowed. Look at what the DUT waits for%s, or allow more by"
                    + " withTimeout(...).",
                isWrite ? "write to" : "read of",
                address,
                began,
                ports.get(Role.ACKNOWLEDGE),
                waited,
                timeout,
                log.isEmpty() ? "" : " after \"" + log.getLast() + "\""));
      }
      if (strobesOnce) {
        strobe(false, false);
      }
      step(1);
    }
  }

  private void step(long cycles) {
    if (onlooker == null) {
      dut.cycles(cycles);
      return;
    }
    for (long i = 0; i < cycles; i++) {
      onlooker.before();
      dut.cycle();
      onlooker.after();
    }
  }

  private void strobe(boolean reads, boolean writes) {
    set(ports.get(Role.STROBE), reads || writes);
    set(ports.get(Role.WRITE_ENABLE), writes);
    set(ports.get(Role.READ_STROBE), reads);
    set(ports.get(Role.WRITE_STROBE), writes);
  }

  private void set(String port, boolean high) {
    if (port != null) {
      dut.set(port, high ? 1 : 0);
    }
  }

  private void keep(Transfer transfer) {
    if (log.size() == MOST_KEPT) {
      log.removeFirst();
    }
    log.add(transfer);
  }

  private static void require(String port, String what, String by) {
    if (port == null) {
      throw new BusException(
          "The bus has no port for " + what + "; each transfer needs one. Name it by " + by + ".");
    }
  }
}
