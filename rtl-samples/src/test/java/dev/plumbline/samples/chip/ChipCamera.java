package dev.plumbline.samples.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.Batch;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.models.light.Lighting;
import dev.plumbline.models.light.Material;
import dev.plumbline.models.picture.Picture;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.scene.Scene;
import dev.plumbline.samples.OrreryHost;
import dev.plumbline.samples.SampleExecutor;
import java.util.BitSet;
import java.util.List;

/** Takes pictures of scenes in text with the whole chip, one after the other. */
final class ChipCamera implements AutoCloseable {
  static final SceneFormats FORMATS = SampleExecutor.STANDARD.formats();
  private static final ProgramLimits LIMITS = SampleExecutor.STANDARD.limits();
  private static final int ROWS = 256;
  private static final int MOST_BATCHES = 100_000;

  private final Dut dut;
  private final OrreryHost host;
  private final Batch batch;

  ChipCamera(CompiledDesign model) {
    dut = model.open();
    host = new OrreryHost(dut);
    host.reset();
    batch = dut.batch(ROWS);
  }

  void scene(String text, List<Material> materials) {
    Program program = Scene.parse(text).program(FORMATS, LIMITS);
    host.load(program);
    host.materials(materials);
  }

  Picture take(Lighting lighting, int width, int height) {
    host.light(lighting, width, height);
    host.start();
    Picture picture = Picture.of(width, height);
    BitSet came = new BitSet();
    boolean done = false;
    for (int i = 0; !done; i++) {
      assertTrue(i < MOST_BATCHES, "no end of the frame");
      dut.run(batch, ROWS);
      for (int row = 0; row < ROWS; row++) {
        if (batch.column("pixel_valid")[row] == 1) {
          int x = (int) batch.column("pixel_x")[row];
          int y = (int) batch.column("pixel_y")[row];
          came.set(y * width + x);
          picture.set(x, y, (int) batch.column("pixel_colour")[row]);
        }
        done |= batch.column("irq")[row] == 1;
      }
    }
    assertEquals(width * height, came.cardinality(), "pixels");
    return picture;
  }

  @Override
  public void close() {
    dut.close();
  }
}
