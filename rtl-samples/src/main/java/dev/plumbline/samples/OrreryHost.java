package dev.plumbline.samples;

import dev.plumbline.bus.Bus;
import dev.plumbline.cosim.Dut;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.light.Camera;
import dev.plumbline.models.light.Lighting;
import dev.plumbline.models.light.Material;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.WordLayout;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;

/**
 * What a host does with {@code orrery.sv} over its bus, at the addresses that {@code
 * host_port.registers} gives.
 *
 * <pre>{@code
 * OrreryHost host = new OrreryHost(dut);
 * host.reset();
 * host.load(program);
 * host.materials(materials);
 * host.light(lighting, 64, 48);
 * host.start();
 * }</pre>
 */
public final class OrreryHost {
  private static final int CONTROL = 0x01;
  private static final int INTERRUPT = 0x03;
  private static final int INTERRUPT_ENABLE = 0x04;
  private static final int PROGRAM_ADDRESS = 0x10;
  private static final int TABLE_ADDRESS = 0x20;
  private static final int SETTINGS = 0x40;
  private static final int LAMP_PARALLEL = 0x64;
  private static final int EPSILON = 0x66;
  private static final int AMBIENT = 0x68;
  private static final int BACKGROUND = 0x6A;
  private static final int WIDTH = 0x6C;
  private static final int FRAME_CYCLES = 0x80;
  private static final int START = 1;
  private static final int FRAME_DONE = 1;
  private static final int HALF = 16; // bits
  private static final int AXES = 3;
  private static final int MOST_CYCLES = 20;

  private final Dut dut; // or null, where writes are only noted
  private final Bus bus;
  private final Writes writes;

  /** What takes the writes. */
  private interface Writes {
    void write(int address, long data);
  }

  /**
   * A write.
   *
   * @param address the word's, 8 bits
   * @param data its 16 bits
   */
  public record Write(int address, long data) {}

  private OrreryHost(Writes writes) {
    this.dut = null;
    this.bus = null;
    this.writes = writes;
  }

  /**
   * The host of a chip.
   *
   * @param dut a model of {@code orrery}
   */
  public OrreryHost(Dut dut) {
    this.dut = dut;
    this.bus =
        Bus.of(dut)
            .withAddress("bus_address")
            .withData("bus_wdata", "bus_rdata")
            .withStrobe("bus_valid", "bus_write")
            .withAcknowledge("bus_ready")
            .withTimeout(MOST_CYCLES);
    this.writes = bus::write;
  }

  /**
   * All that a host writes from reset to the start of a frame.
   *
   * @param program of the scene
   * @param table of materials
   * @param lighting of the frame
   * @param width pixels in a row
   * @param height rows
   * @return one after the other
   */
  public static List<Write> writes(
      Program program, List<Material> table, Lighting lighting, int width, int height) {
    List<Write> all = new ArrayList<>();
    OrreryHost host = new OrreryHost((address, data) -> all.add(new Write(address, data)));
    host.enable();
    host.load(program);
    host.materials(table);
    host.light(lighting, width, height);
    host.start();
    return all;
  }

  /** Resets the chip, and has it raise its interrupt when a frame is done. */
  public void reset() {
    dut.set("rst", 1);
    dut.cycles(3);
    dut.set("rst", 0);
    enable();
  }

  private void enable() {
    writes.write(INTERRUPT_ENABLE, FRAME_DONE);
  }

  /**
   * Loads a program, 16 bits at a time.
   *
   * @param program in the chip's formats
   */
  public void load(Program program) {
    writes.write(PROGRAM_ADDRESS, 0);
    writes.write(PROGRAM_ADDRESS + 1, 0);
    int width = 24 + 6 * program.formats().word().width();
    for (BigInteger word : WordLayout.standard(program.formats()).encode(program)) {
      for (int bit = 0; bit < width; bit += HALF) {
        writes.write(PROGRAM_ADDRESS + 2, word.shiftRight(bit).intValue() & 0xFFFF);
      }
    }
  }

  /**
   * Loads the table of materials from its beginning.
   *
   * @param table in the order of their numbers
   */
  public void materials(List<Material> table) {
    writes.write(TABLE_ADDRESS, 0);
    writes.write(TABLE_ADDRESS + 1, 0);
    for (Material material : table) {
      writes.write(TABLE_ADDRESS + 2, material.word() & 0xFFFF);
      writes.write(TABLE_ADDRESS + 2, material.word() >> HALF);
    }
  }

  /**
   * Sets camera, lamp and the like.
   *
   * @param lighting in the chip's formats
   * @param width pixels in a row
   * @param height rows
   */
  public void light(Lighting lighting, int width, int height) {
    Camera camera = lighting.camera();
    int parallel = 0;
    for (int axis = 0; axis < AXES; axis++) {
      wide(SETTINGS + 2 * axis, camera.eye(axis));
      wide(SETTINGS + 2 * (AXES + axis), camera.corner(axis));
      wide(SETTINGS + 2 * (2 * AXES + axis), camera.right(axis));
      wide(SETTINGS + 2 * (3 * AXES + axis), camera.down(axis));
      wide(SETTINGS + 2 * (4 * AXES + axis), lighting.lamp(axis));
      long inverse = inverse(lighting, axis);
      wide(SETTINGS + 2 * (5 * AXES + axis), inverse);
      parallel |= inverse == 0 ? 1 << axis : 0;
    }
    writes.write(LAMP_PARALLEL, parallel);
    wide(EPSILON, lighting.epsilon());
    writes.write(AMBIENT, lighting.ambient());
    wide(BACKGROUND, lighting.background());
    writes.write(WIDTH, width - 1);
    writes.write(WIDTH + 1, height - 1);
  }

  /** One over a component of the lamp, cut towards zero; 0 where it is no word. */
  private static long inverse(Lighting lighting, int axis) {
    Format word = lighting.formats().word();
    long lamp = lighting.lamp(axis);
    if (lamp == 0) {
      return 0;
    }
    int bits = word.fractionBits() + lighting.formats().direction().fractionBits();
    BigInteger inverse = BigInteger.ONE.shiftLeft(bits).divide(BigInteger.valueOf(lamp));
    boolean isWord =
        inverse.compareTo(word.minCode()) >= 0 && inverse.compareTo(word.maxCode()) <= 0;
    return isWord ? inverse.longValue() : 0;
  }

  /** Starts a frame; the interrupt is low until it is done. */
  public void start() {
    writes.write(INTERRUPT, FRAME_DONE);
    writes.write(CONTROL, START);
  }

  /**
   * What the chip counted of its last frame.
   *
   * @return cycles, then rays: primary, shadow, mirror, mirror shadow
   */
  public long[] counts() {
    long[] counts = new long[5];
    for (int i = 0; i < counts.length; i++) {
      int low = FRAME_CYCLES + 2 * i;
      counts[i] = bus.read(low) | bus.read(low + 1) << HALF;
    }
    return counts;
  }

  private void wide(int address, long value) {
    writes.write(address, value & 0xFFFF);
    writes.write(address + 1, value >> HALF & 0xFFFF);
  }
}
