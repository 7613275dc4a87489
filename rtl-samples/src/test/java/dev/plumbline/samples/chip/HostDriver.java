package dev.plumbline.samples.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.bus.Bus;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.cosim.DutOptions;
import dev.plumbline.cosim.InitialState;

/** The host's bus, an access at a time, each as many cycles as the port promises. */
final class HostDriver implements AutoCloseable {
  private static final int MOST_CYCLES = 20;

  /** What an access came to. */
  record Access(int data, boolean error, int cycles) {}

  private final Dut dut;

  HostDriver(CompiledDesign model, long seed) {
    dut =
        model.open(
            DutOptions.defaults().withInitialState(InitialState.RANDOM).withSeed(seed & 0xFFFF));
    reset();
  }

  void reset() {
    dut.set("rst", 1);
    dut.cycles(3);
    dut.set("rst", 0);
  }

  Dut dut() {
    return dut;
  }

  Bus bus() {
    return Bus.of(dut)
        .withAddress("bus_address")
        .withData("bus_wdata", "bus_rdata")
        .withStrobe("bus_valid", "bus_write")
        .withAcknowledge("bus_ready")
        .withTimeout(MOST_CYCLES);
  }

  /** An access; inputs that were set stand for all its cycles. */
  Access access(boolean write, int address, int data) {
    dut.set("bus_valid", 1);
    dut.set("bus_write", write ? 1 : 0);
    dut.set("bus_address", address);
    dut.set("bus_wdata", data & 0xFFFF);
    int cycles = 0;
    do {
      dut.cycle();
      cycles++;
      assertTrue(cycles <= MOST_CYCLES, "an access of address " + address + " does not end");
    } while (dut.get("bus_ready") == 0);
    dut.set("bus_valid", 0);
    return new Access((int) dut.get("bus_rdata"), dut.get("bus_error") == 1, cycles);
  }

  void write(int address, int data) {
    assertFalse(access(true, address, data).error(), () -> "a write to " + hex(address));
  }

  int read(int address) {
    Access access = access(false, address, 0);
    assertFalse(access.error(), () -> "a read of " + hex(address));
    return access.data();
  }

  void writeWide(int address, long value) {
    write(address, (int) value & 0xFFFF);
    write(address + 1, (int) (value >> 16) & 0xFFFF);
  }

  long readWide(int address) {
    long low = read(address);
    return low | (long) read(address + 1) << 16;
  }

  void refuses(boolean write, int address, int data) {
    assertEquals(
        new Access(0, true, 2),
        access(write, address, data),
        () -> (write ? "a write to " : "a read of ") + hex(address));
  }

  static String hex(int address) {
    return "address 0x" + Integer.toHexString(address);
  }

  @Override
  public void close() {
    dut.close();
  }
}
