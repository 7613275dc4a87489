package dev.plumbline.samples.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.Batch;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.models.light.Camera;
import dev.plumbline.models.light.ExactLight;
import dev.plumbline.models.light.Frame;
import dev.plumbline.models.light.Lighting;
import dev.plumbline.models.light.Material;
import dev.plumbline.models.picture.DitherMatrix;
import dev.plumbline.models.picture.Palette;
import dev.plumbline.models.picture.Picture;
import dev.plumbline.models.picture.PlaneLayout;
import dev.plumbline.models.picture.Quantiser;
import dev.plumbline.models.program.Program;
import dev.plumbline.samples.chip.SequencerDriver.Settings;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.stimulus.RandomStream;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.List;

/**
 * Frame after frame through the whole chip, in any parameters: another scene, view, size and layout
 * each time, some frames given up and begun again, some begun while the picture before them still
 * waits for its turn, words of pictures taken at any pace. Pixels, rays and words are the models'.
 */
final class OrreryFrames implements AutoCloseable {
  private static final int ROWS = 1024;
  private static final int MOST_BATCHES = 20_000;

  private final OrreryBuild build;
  private final RandomStream chance;
  private final OrreryDriver chip;
  private final HostDriver host;
  private final Dut dut;
  private final Batch batch;
  private final List<Long> words = new ArrayList<>();
  private final List<Long> wantedWords = new ArrayList<>();
  private final List<Integer> wantedEnds = new ArrayList<>();
  private final List<Integer> ends = new ArrayList<>();
  private Pacing.Pattern pace;
  private Picture picture; // of the frame under way
  private final BitSet given = new BitSet();

  /** Pixels that came before one that was handed out earlier. */
  private int overtaken;

  private int furthest;

  /** Cycles in which a pixel waited for the memory. */
  private int swapsWithAFrameWaiting;

  OrreryFrames(CompiledDesign model, OrreryBuild build, long seed) {
    this.build = build;
    chance = RandomStream.of(seed);
    chip = new OrreryDriver(model, build.formats(), chance.next());
    host = chip.host();
    dut = host.dut();
    batch = dut.batch(ROWS);
    host.write(0x04, 1); // frame done alone interrupts
  }

  /** Runs frames of at most so many pixels each. */
  void run(int frames, int pixels) {
    for (int i = 0; i < frames; i++) {
      pace = Pacing.varied().open(chance.next());
      untilSwapped();
      frame(pixels, "frame " + i + " of " + build);
    }
    untilSwapped();
    for (int i = 0; words.size() < wantedWords.size(); i++) {
      assertTrue(i < MOST_BATCHES, "no more words after " + words.size());
      batch();
    }
    batch();
    assertEquals(wantedWords, words, () -> "words of " + build);
    assertEquals(wantedEnds, ends, () -> "last words of " + build);
  }

  int overtaken() {
    return overtaken;
  }

  int framesThatBeganBeforeTheSwap() {
    return swapsWithAFrameWaiting;
  }

  private void frame(int pixels, String what) {
    int width = 1 + chance.below(Math.min(1 << build.xBits(), pixels));
    int height = 1 + chance.below(Math.min(1 << build.yBits(), pixels / width));
    int kinds = Math.min(8, 1 << build.materialBits());
    RandomPictures drawn = new RandomPictures(build.formats(), build.normalised(), kinds, chance);
    StandInScene scene = drawn.scene();
    Settings settings = drawn.settings(width / 2, height / 2);
    List<Material> materials = drawn.materials();
    int mode = chance.below(8);
    chip.load(scene);
    chip.table(materials);
    chip.settings(settings, width, height);
    host.write(0x6E, mode);
    Frame wanted = light(scene.program(), settings, materials).frame(width, height);
    while (chance.chance(0.4)) {
      givenUp();
    }
    begin(width, height);
    untilDone(wanted, what);
    swap(wanted, mode);
    if (chance.chance(0.4)) {
      // The same once more, begun while the swap may still be pending.
      swapsWithAFrameWaiting += (host.read(0x02) & 2) >> 1;
      begin(width, height);
      untilDone(wanted, what + " once more");
      untilSwapped();
      swap(wanted, mode);
    }
  }

  private ExactLight light(Program program, Settings settings, List<Material> materials) {
    Camera camera =
        Camera.of(
            program.formats().word(),
            settings.eye(),
            settings.corner(),
            settings.stepX(),
            settings.stepY());
    Lighting lighting =
        Lighting.of(program.formats(), camera, new double[] {0, 0, 1})
            .withLamp(settings.lamp())
            .withEpsilon(settings.epsilon())
            .withAmbient(settings.ambient())
            .withBackground(settings.background())
            .withMaterials(materials);
    return ExactLight.of(
        program, build.normalised() ? lighting : lighting.withStepped(), build.spans());
  }

  private void begin(int width, int height) {
    picture = Picture.of(width, height);
    given.clear();
    furthest = -1;
    host.write(0x01, 1);
  }

  private void givenUp() {
    picture = null;
    host.write(0x01, 1);
    for (int i = chance.below(1 << chance.below(4)); i > 0; i--) {
      batch();
    }
    dut.cycles(chance.below(200));
    boolean wasDone = dut.get("irq") == 1;
    host.write(0x01, 2);
    for (int i = 0; (host.read(0x02) & 1) == 1; i++) {
      assertTrue(i < MOST_BATCHES, "busy after it was given up");
      batch();
    }
    // It may have ended by itself before.
    assertEquals(wasDone || (host.read(0x03) & 1) == 1, dut.get("irq") == 1);
    host.write(0x03, 1);
  }

  private void untilDone(Frame wanted, String what) {
    for (int i = 0; dut.get("irq") == 0; i++) {
      assertTrue(i < MOST_BATCHES, () -> what + " is never done");
      batch();
    }
    host.write(0x03, 1);
    Picture whole = wanted.picture();
    assertEquals(whole.width() * whole.height(), given.cardinality(), () -> "pixels of " + what);
    for (int y = 0; y < whole.height(); y++) {
      for (int x = 0; x < whole.width(); x++) {
        String where = "pixel " + x + ", " + y + " of " + what;
        assertEquals(
            Integer.toHexString(whole.at(x, y)), Integer.toHexString(picture.at(x, y)), where);
      }
    }
    assertEquals(wanted.rays().primary(), host.readWide(0x82), what);
    assertEquals(wanted.rays().shadow(), host.readWide(0x84), what);
    assertEquals(wanted.rays().mirror(), host.readWide(0x86), what);
    assertEquals(wanted.rays().mirrorShadow(), host.readWide(0x88), what);
  }

  private void swap(Frame wanted, int mode) {
    host.write(0x01, 4);
    Quantiser quantiser =
        Quantiser.of((mode & 1) == 1 ? Palette.levels(6, 6, 6) : Palette.levels(8, 8, 4));
    Quantiser dithered = (mode & 2) == 2 ? quantiser.withDither(DitherMatrix.bayer(3)) : quantiser;
    PlaneLayout layout = (mode & 4) == 4 ? PlaneLayout.tiles(8, 8, 16) : PlaneLayout.rows(8, 16);
    for (long word : layout.pack(dithered.convert(wanted.picture()))) {
      wantedWords.add(word);
    }
    wantedEnds.add(wantedWords.size());
  }

  private void untilSwapped() {
    for (int i = 0; (host.read(0x02) & 2) == 2; i++) {
      assertTrue(i < MOST_BATCHES, "a swap is pending for ever");
      batch();
    }
  }

  /** Some cycles; nobody takes a word beside them. */
  private void batch() {
    long[] ready = batch.column("out_ready");
    pace.fill(ready, 0, ROWS);
    dut.run(batch, ROWS);
    dut.set("out_ready", 0);
    for (int row = 0; row < ROWS; row++) {
      if (batch.column("pixel_valid")[row] == 1 && picture != null) {
        int x = (int) batch.column("pixel_x")[row];
        int y = (int) batch.column("pixel_y")[row];
        int place = y * picture.width() + x;
        assertTrue(!given.get(place), () -> "given twice: " + x + ", " + y);
        given.set(place);
        overtaken += place < furthest ? 1 : 0;
        furthest = Math.max(furthest, place);
        picture.set(x, y, (int) batch.column("pixel_colour")[row]);
      }
      if (ready[row] == 1 && batch.column("out_valid")[row] == 1) {
        words.add(batch.column("out_word")[row]);
        if (batch.column("out_last")[row] == 1) {
          ends.add(words.size());
        }
      }
    }
  }

  @Override
  public void close() {
    chip.close();
  }
}
