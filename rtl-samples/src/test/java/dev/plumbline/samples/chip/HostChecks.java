package dev.plumbline.samples.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.bus.RegisterFile;
import dev.plumbline.cosim.Batch;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.samples.SampleRtl;
import dev.plumbline.stimulus.RandomStream;
import java.util.Set;
import java.util.TreeSet;

/**
 * What the host port owes to its register map, to arithmetic and to the tests of memories. Each
 * check takes any build of it with memories behind it, so that planted faults meet the same checks.
 */
final class HostChecks {
  private static final int PALETTE = 0x18;
  private static final int TABLE = 0x20;
  private static final int PROGRAM = 0x10;

  private HostChecks() {}

  /** K2, K3: reset values, access kinds, addresses. */
  static void registersAreAsDeclared(CompiledDesign model, long seed) {
    try (HostDriver host = new HostDriver(model, seed)) {
      RegisterFile.read(SampleRtl.FOLDER.resolve("host_port.registers")).check(host.bus());
    }
  }

  /** K2, K3 by chance: any access after any other, with events in any cycle. */
  static void anyAccessAfterAnyOther(CompiledDesign model, long accesses, long seed) {
    try (HostDriver host = new HostDriver(model, seed)) {
      RegisterFile.read(SampleRtl.FOLDER.resolve("host_port.registers"))
          .check(host.bus().withError("bus_error"), accesses, seed);
    }
  }

  /** Every address, read and written: what is not there is refused, in two cycles. */
  static void onlyWhatIsThereAnswers(CompiledDesign model, long seed) {
    Set<Integer> readOnly = range(0x80, 0x89);
    readOnly.addAll(Set.of(0x00, 0x02, 0x0B, 0x0C));
    Set<Integer> both = range(0x40, 0x6E);
    both.removeAll(Set.of(0x65, 0x69));
    both.addAll(Set.of(3, 4, 5, 8, 9, 0x0A));
    for (int window : new int[] {PROGRAM, PALETTE, TABLE}) {
      both.addAll(range(window, window + 2));
    }
    Set<Integer> memories = Set.of(PROGRAM + 2, PALETTE + 2, TABLE + 2);
    try (HostDriver host = new HostDriver(model, seed)) {
      for (int address = 0; address < 256; address++) {
        for (boolean write : new boolean[] {false, true}) {
          boolean there =
              both.contains(address) || (write ? address == 1 : readOnly.contains(address));
          if (!there) {
            host.refuses(write, address, 0xFFFF);
            continue;
          }
          HostDriver.Access access = host.access(write, address, 0);
          assertEquals(false, access.error(), HostDriver.hex(address));
          assertEquals(!write && memories.contains(address) ? 3 : 2, access.cycles());
        }
      }
    }
  }

  private static Set<Integer> range(int first, int last) {
    Set<Integer> all = new TreeSet<>();
    for (int address = first; address <= last; address++) {
      all.add(address);
    }
    return all;
  }

  /** Pulses of one cycle, flags that are set in the cycle that clears them, and their interrupt. */
  static void pulsesAndFlags(CompiledDesign model, long seed) {
    String[] pulses = {"start_frame", "abort_frame", "swap"};
    String[] sets = {"set_frame_done", "set_streamed", "set_start_ignored"};
    try (HostDriver host = new HostDriver(model, seed)) {
      Dut dut = host.dut();
      for (int i = 0; i < 3; i++) {
        host.write(1, 1 << i);
        for (int j = 0; j < 3; j++) {
          assertEquals(i == j ? 1 : 0, dut.get(pulses[j]), pulses[j]);
        }
        dut.cycle();
        assertEquals(0, dut.get(pulses[i]), pulses[i] + " a cycle later");
        dut.set(sets[i], 1);
        dut.cycle();
        dut.set(sets[i], 0);
        assertEquals(1 << i, host.read(3));
        assertEquals(0, dut.get("irq"));
        host.write(4, 7 - (1 << i));
        dut.settle();
        assertEquals(0, dut.get("irq"));
        host.write(4, 1 << i);
        dut.settle();
        assertEquals(1, dut.get("irq"));
        host.write(3, 7 - (1 << i));
        assertEquals(1 << i, host.read(3));
        dut.set(sets[i], 1);
        host.write(3, 7);
        dut.set(sets[i], 0);
        assertEquals(1 << i, host.read(3), "set and cleared in the same cycle");
        host.write(3, 1 << i);
        assertEquals(0, host.read(3));
        dut.settle();
        assertEquals(0, dut.get("irq"));
      }
      dut.set(sets[1], 1);
      dut.set(sets[2], 1);
      dut.cycle();
      dut.set(sets[1], 0);
      dut.set(sets[2], 0);
      host.write(3, 0b101);
      assertEquals(0b010, host.read(3));
    }
  }

  /** While the chip works, nothing changes under it, and what is refused has no effect. */
  static void busyRefusesAndLosesNothing(CompiledDesign model, long seed) {
    RandomStream chance = RandomStream.of(seed);
    try (HostDriver host = new HostDriver(model, seed)) {
      Dut dut = host.dut();
      for (int window : new int[] {PROGRAM, PALETTE, TABLE}) {
        host.write(window, 1);
        host.write(window + 1, 0);
        int kept = chance.below(0x10000);
        int last = window == PROGRAM ? 14 : 2;
        for (int i = 0; i < last; i++) {
          host.write(window + 2, kept);
        }
        host.write(window, 1);
        dut.set("busy", 1);
        host.refuses(true, window + 2, ~kept);
        host.refuses(false, window + 2, 0);
        host.write(window + 1, 1);
        host.refuses(true, window + 2, ~kept);
        host.write(window + 1, 0);
        assertEquals(1, host.read(window));
        assertEquals(0, host.read(window + 1));
        dut.set("busy", 0);
        assertEquals(kept, host.read(window + 2));
      }
      for (int part : new int[] {14, 15}) {
        host.write(PROGRAM + 1, part);
        host.refuses(true, PROGRAM + 2, 5);
        host.refuses(false, PROGRAM + 2, 0);
        assertEquals(part, host.read(PROGRAM + 1));
      }
      for (String level : new String[] {"busy", "swap_pending"}) {
        for (int address = 0x40; address <= 0x6E; address++) {
          if (address == 0x65 || address == 0x69) {
            continue;
          }
          int kept = chance.below(0x10000);
          host.write(address, kept);
          dut.set(level, 1);
          host.refuses(true, address, ~kept);
          assertEquals(kept, host.read(address));
          dut.set(level, 0);
          assertEquals(kept, host.read(address));
        }
      }
      dut.set("busy", 1);
      assertEquals(1, host.read(2));
      dut.set("busy", 0);
      dut.set("swap_pending", 1);
      assertEquals(6, host.read(2));
      dut.set("swap_pending", 0);
      assertEquals(4, host.read(2));
    }
  }

  /** Halves of counters belong together whatever the counter does in between. */
  static void countersAreReadWhole(CompiledDesign model, long seed) {
    String[] counters = {
      "frame_cycles", "primary_rays", "shadow_rays", "mirror_rays", "mirror_shadow_rays"
    };
    RandomStream chance = RandomStream.of(seed);
    try (HostDriver host = new HostDriver(model, seed)) {
      for (int turn = 0; turn < 4; turn++) {
        long[] values = new long[counters.length];
        for (int i = 0; i < counters.length; i++) {
          values[i] = chance.next() & 0xFFFF_FFFFL;
          host.dut().set(counters[i], values[i]);
        }
        for (int i = 0; i < counters.length; i++) {
          assertEquals(values[i] & 0xFFFF, host.read(0x80 + 2 * i));
          host.dut().set(counters[i], ~values[i] & 0xFFFF_FFFFL);
        }
        for (int i = 0; i < counters.length; i++) {
          assertEquals(values[i] >> 16, host.read(0x81 + 2 * i), counters[i]);
        }
      }
    }
  }

  /** Each setting at its port. */
  static void settingsReachTheirPorts(CompiledDesign model, long seed) {
    String[] vectors = {"eye", "corner", "step_x", "step_y", "lamp", "lamp_inverse"};
    RandomStream chance = RandomStream.of(seed);
    try (HostDriver host = new HostDriver(model, seed)) {
      Dut dut = host.dut();
      for (int vector = 0; vector < vectors.length; vector++) {
        java.math.BigInteger wanted = java.math.BigInteger.ZERO;
        int bits = vectors[vector].equals("lamp") ? 18 : 32;
        for (int axis = 0; axis < 3; axis++) {
          long value = chance.next() & 0xFFFF_FFFFL;
          host.writeWide(0x40 + 6 * vector + 2 * axis, value);
          long low = value & ((1L << bits) - 1);
          wanted = wanted.or(java.math.BigInteger.valueOf(low).shiftLeft(bits * axis));
        }
        dut.settle();
        long[] words = dut.getWords(vectors[vector]);
        for (int i = 0; i < words.length; i++) {
          assertEquals(wanted.shiftRight(64 * i).longValue(), words[i], vectors[vector]);
        }
      }
      setting(host, "lamp_parallel", 0x64, 3, chance);
      setting(host, "epsilon", 0x66, 32, chance);
      setting(host, "ambient", 0x68, 9, chance);
      setting(host, "background", 0x6A, 24, chance);
      setting(host, "width_less_1", 0x6C, 12, chance);
      setting(host, "height_less_1", 0x6D, 12, chance);
      for (int value = 0; value < 8; value++) {
        host.write(0x6E, value);
        dut.settle();
        assertEquals(value & 1, dut.get("palette_kind"));
        assertEquals(value >> 1 & 1, dut.get("dither"));
        assertEquals(value >> 2, dut.get("layout"));
      }
    }
  }

  private static void setting(
      HostDriver host, String port, int address, int bits, RandomStream chance) {
    long value = chance.next() & 0xFFFF_FFFFL;
    host.write(address, (int) value & 0xFFFF);
    if (bits > 16) {
      host.write(address + 1, (int) (value >> 16));
    }
    host.dut().settle();
    assertEquals(value & ((1L << bits) - 1), host.dut().get(port) & ((1L << bits) - 1), port);
  }

  /** K4's corners, in every mode. */
  static void multiplierCorners(CompiledDesign model, long seed) {
    int[][] corners = {
      {0x8000, 0x8000, 3, 0x40000000},
      {0x7FFF, 0x7FFF, 3, 0x3FFF0001},
      {0x8000, 0x7FFF, 3, 0xC0008000},
      {0x7FFF, 0x8000, 3, 0xC0008000},
      {0xFFFF, 0xFFFF, 0, 0xFFFE0001},
      {0x5555, 0xAAAA, 0, 0x38E31C72},
      {0xFFFF, 0xFFFF, 3, 1},
      {0xFFFF, 0xFFFF, 1, 0xFFFF0001},
      {0xFFFF, 0xFFFF, 2, 0xFFFF0001},
      {0xFFFF, 0x0001, 1, 0xFFFFFFFF},
      {0xFFFF, 0x0001, 2, 0x0000FFFF}
    };
    try (HostDriver host = new HostDriver(model, seed)) {
      for (int[] corner : corners) {
        host.write(0x08, corner[0]);
        host.write(0x09, corner[1]);
        host.write(0x0A, corner[2]);
        // Both halves are right in the very next access.
        assertEquals(corner[3] & 0xFFFF, host.read(0x0B));
        assertEquals(corner[3] >>> 16, host.read(0x0C));
        host.write(0x08, 0);
        assertEquals(0, host.read(0x0C));
        host.write(0x08, corner[0]);
        assertEquals(corner[3] >>> 16, host.read(0x0C));
      }
    }
  }

  /**
   * All 65,536 multipliers for some multiplicands: each product, its residues, and their sum in
   * closed form.
   */
  static void multiplierSums(CompiledDesign model, int multiplicands, long seed) {
    RandomStream chance = RandomStream.of(seed);
    try (HostDriver host = new HostDriver(model, seed)) {
      for (int i = 0; i < multiplicands; i++) {
        int code = chance.below(0x10000);
        int mode = i % 4;
        host.write(0x08, code);
        host.write(0x0A, mode);
        long a = (mode & 1) == 1 ? (short) code : code;
        long sum = 0;
        for (int from = 0; from < 0x10000; from += 4096) {
          sum += products(host.dut(), a, from, (mode & 2) == 2, mode != 0);
        }
        assertEquals(a * ((mode & 2) == 2 ? -32768L : 2147450880L), sum, "sum for " + a);
      }
    }
  }

  /** Six cycles each: the multiplier is written, both halves are read. */
  private static long products(Dut dut, long a, int from, boolean signedB, boolean isSigned) {
    int rows = 4096 * 6;
    Batch batch = dut.batch(rows);
    long[] valid = batch.column("bus_valid");
    long[] write = batch.column("bus_write");
    long[] address = batch.column("bus_address");
    long[] data = batch.column("bus_wdata");
    for (int row = 0; row < rows; row++) {
      int part = row % 6 / 2;
      valid[row] = 1;
      write[row] = part == 0 ? 1 : 0;
      address[row] = part == 0 ? 0x09 : 0x0A + part;
      data[row] = from + row / 6;
    }
    dut.run(batch, rows);
    long[] ready = batch.column("bus_ready");
    long[] read = batch.column("bus_rdata");
    long sum = 0;
    for (int row = 0; row < rows; row += 6) {
      int code = from + row / 6;
      long b = signedB ? (short) code : code;
      assertTrue(ready[row + 1] == 1 && ready[row + 3] == 1 && ready[row + 5] == 1, "ready");
      long bits = read[row + 3] | read[row + 5] << 16;
      long product = isSigned ? (int) bits : bits;
      for (long m : new long[] {3, 15, 255}) {
        assertEquals(
            Math.floorMod(Math.floorMod(a, m) * Math.floorMod(b, m), m),
            Math.floorMod(product, m),
            () -> a + " times " + b + " modulo " + m);
      }
      assertEquals(a * b, product, () -> a + " times " + b);
      sum += product;
    }
    dut.set("bus_valid", 0);
    return sum;
  }

  /** K1: March C- over a memory, word by word and part by part, on several backgrounds. */
  static void memoriesPassMarchC(CompiledDesign model, int programWords, long seed) {
    try (HostDriver host = new HostDriver(model, seed)) {
      march(host, PROGRAM, programWords, 14, 8);
      march(host, PALETTE, 256, 2, 8);
      march(host, TABLE, 256, 2, 16);
    }
  }

  private static void march(HostDriver host, int window, int words, int parts, int lastBits) {
    Memory memory = new Memory(host, window, words, parts, (1 << lastBits) - 1);
    for (int zero : new int[] {0x0000, 0x5555, 0x3333, 0x0F0F, 0x00FF}) {
      int one = ~zero & 0xFFFF;
      for (int word = 0; word < words; word++) {
        memory.write(word, zero);
      }
      for (int word = 0; word < words; word++) {
        memory.read(word, zero);
        memory.write(word, one);
      }
      for (int word = 0; word < words; word++) {
        memory.read(word, one);
        memory.write(word, zero);
      }
      for (int word = words - 1; word >= 0; word--) {
        memory.read(word, zero);
        memory.write(word, one);
      }
      for (int word = words - 1; word >= 0; word--) {
        memory.read(word, one);
        memory.write(word, zero);
      }
      for (int word = 0; word < words; word++) {
        memory.read(word, zero);
      }
    }
    memory.holdsItsOwnAddresses();
  }

  /** One memory behind its window. */
  private record Memory(HostDriver host, int window, int words, int parts, int lastMask) {
    void write(int word, int value) {
      at(word);
      for (int part = 0; part < parts; part++) {
        host.write(window + 2, value);
      }
    }

    void read(int word, int value) {
      at(word);
      for (int part = 0; part < parts; part++) {
        int wanted = part == parts - 1 ? value & lastMask : value;
        assertEquals(
            wanted, host.read(window + 2), "part " + part + " of word " + word + " at " + window);
      }
    }

    private void at(int word) {
      host.write(window, word);
      host.write(window + 1, 0);
    }

    private int addressBits() {
      host.write(window, 0xFFFF);
      return Integer.bitCount(host.read(window));
    }

    /** K3, in one go: the window counts on by itself, over the end as well. */
    void holdsItsOwnAddresses() {
      int next = words == 1 << addressBits() ? 0 : words;
      at(0);
      for (int word = 0; word < words; word++) {
        for (int part = 0; part < parts; part++) {
          host.write(window + 2, word * 16 + part);
        }
      }
      // After the last word of all the first one follows.
      assertEquals(next, host.read(window), "the address after the last word");
      host.write(window, 0);
      for (int word = 0; word < words; word++) {
        for (int part = 0; part < parts; part++) {
          int wanted = (word * 16 + part) & (part == parts - 1 ? lastMask : 0xFFFF);
          assertEquals(wanted, host.read(window + 2), "part " + part + " of word " + word);
        }
      }
      assertEquals(next, host.read(window));
      assertEquals(0, host.read(window + 1));
      // Parts in any order: the last one stores.
      host.write(window, words - 1);
      for (int part = parts - 1; part >= 0; part--) {
        host.write(window + 1, part);
        host.write(window + 2, 0xA500 + part);
      }
      host.write(window, words - 1);
      host.write(window + 1, parts - 1);
      host.write(window + 2, 0x1234);
      at(words - 1);
      for (int part = 0; part < parts; part++) {
        int wanted = part == parts - 1 ? 0x1234 & lastMask : 0xA500 + part;
        assertEquals(wanted, host.read(window + 2), "part " + part + " written alone");
      }
    }
  }
}
