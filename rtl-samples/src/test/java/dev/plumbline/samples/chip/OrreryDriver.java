package dev.plumbline.samples.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.Batch;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.models.light.Material;
import dev.plumbline.models.picture.Picture;
import dev.plumbline.samples.chip.SequencerDriver.Settings;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.List;

/** The whole chip by its own ports alone: what a host does, and what a display sees. */
final class OrreryDriver implements AutoCloseable {
  private static final int ROWS = 4096;
  private static final int MOST_BATCHES = 4000;
  private static final int FRAME_DONE = 1;
  private static final int STREAMED = 2;

  private final HostDriver host;
  private final Batch batch;
  private final int parts; // of a program's word

  OrreryDriver(CompiledDesign model, long seed) {
    this(model, Formats.STANDARD, seed);
  }

  OrreryDriver(CompiledDesign model, Formats formats, long seed) {
    parts = (24 + 6 * formats.wordBits() + 15) / 16;
    host = new HostDriver(model, seed);
    batch = host.dut().batch(ROWS);
    host.write(0x04, 7);
  }

  HostDriver host() {
    return host;
  }

  /** Begin, a solid, close for each, then the end. */
  void load(StandInScene scene) {
    int last = scene.program().length() - 1;
    host.write(0x10, 0);
    host.write(0x11, 0);
    for (int address = 0; address <= last; address++) {
      word(
          switch (address == last ? 3 : address % 3) {
            case 0 -> new long[] {1, 0, 0, 0}; // begin
            case 1 -> scene.word(address / 3);
            case 2 -> new long[] {2, 0, 0, 0}; // close
            default -> new long[4];
          });
    }
  }

  private void word(long... bits) {
    for (int part = 0; part < parts; part++) {
      host.write(0x12, (int) (bits[part / 4] >>> 16 * (part % 4)) & 0xFFFF);
    }
  }

  void table(List<Material> materials) {
    host.write(0x20, 0);
    host.write(0x21, 0);
    for (Material material : materials) {
      host.write(0x22, (int) material.word() & 0xFFFF);
      host.write(0x22, (int) (material.word() >> 16));
    }
  }

  void settings(Settings settings, int width, int height) {
    long[][] vectors = {
      settings.eye(),
      settings.corner(),
      settings.stepX(),
      settings.stepY(),
      settings.lamp(),
      settings.lampInverse()
    };
    for (int i = 0; i < 18; i++) {
      host.writeWide(0x40 + 2 * i, vectors[i / 3][i % 3]);
    }
    host.write(0x64, settings.lampParallel());
    host.writeWide(0x66, settings.epsilon());
    host.write(0x68, settings.ambient());
    host.writeWide(0x6A, settings.background());
    host.write(0x6C, width - 1);
    host.write(0x6D, height - 1);
  }

  void picture(boolean sixLevels, boolean dither, boolean tiles) {
    host.write(0x6E, (sixLevels ? 1 : 0) | (dither ? 2 : 0) | (tiles ? 4 : 0));
  }

  /** Starts a frame and watches its pixels until it is done. */
  Picture frame(int width, int height) {
    host.write(0x01, 1);
    return frameUnderWay(width, height);
  }

  Picture frameUnderWay(int width, int height) {
    Picture picture = Picture.of(width, height);
    BitSet given = new BitSet();
    untilFlag(
        FRAME_DONE,
        row -> {
          if (batch.column("pixel_valid")[row] == 1) {
            int x = (int) batch.column("pixel_x")[row];
            int y = (int) batch.column("pixel_y")[row];
            assertTrue(!given.get(y * width + x), () -> "given twice: " + x + ", " + y);
            given.set(y * width + x);
            picture.set(x, y, (int) batch.column("pixel_colour")[row]);
          }
        });
    assertEquals(width * height, given.cardinality());
    return picture;
  }

  /** Swaps, and gathers the words of the picture. */
  List<Integer> words() {
    host.write(0x01, 4);
    List<Integer> words = new ArrayList<>();
    List<Integer> ends = new ArrayList<>();
    host.dut().set("out_ready", 1);
    untilFlag(
        STREAMED,
        row -> {
          if (batch.column("out_valid")[row] == 1) {
            words.add((int) batch.column("out_word")[row]);
            if (batch.column("out_last")[row] == 1) {
              ends.add(words.size());
            }
          }
        });
    host.dut().set("out_ready", 0);
    assertEquals(List.of(words.size()), ends, "the last word");
    return words;
  }

  private interface EachRow {
    void look(int row);
  }

  /** Runs until the interrupt, for this flag alone, which is cleared. */
  private void untilFlag(int flag, EachRow each) {
    host.dut().settle();
    boolean raised = host.dut().get("irq") == 1;
    for (int i = 0; !raised; i++) {
      assertTrue(i < MOST_BATCHES, "no interrupt");
      host.dut().run(batch, ROWS);
      for (int row = 0; row < ROWS; row++) {
        each.look(row);
      }
      raised = batch.column("irq")[ROWS - 1] == 1;
    }
    assertEquals(flag, host.read(0x03));
    host.write(0x03, flag);
  }

  @Override
  public void close() {
    host.close();
  }
}
