package dev.plumbline.samples.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.models.light.Camera;
import dev.plumbline.models.light.ExactLight;
import dev.plumbline.models.light.Frame;
import dev.plumbline.models.light.IdealLight;
import dev.plumbline.models.light.Lighting;
import dev.plumbline.models.light.Material;
import dev.plumbline.models.picture.CodePicture;
import dev.plumbline.models.picture.DitherMatrix;
import dev.plumbline.models.picture.Palette;
import dev.plumbline.models.picture.Picture;
import dev.plumbline.models.picture.PlaneLayout;
import dev.plumbline.models.picture.Quantiser;
import dev.plumbline.models.program.Program;
import dev.plumbline.samples.chip.SequencerDriver.Settings;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** The whole chip over its bus: scenes go in, pictures in bit planes come out. */
@Tag("thorough")
class OrreryTest {
  private static final int WIDTH = 40;
  private static final int HEIGHT = 27;
  private static final int SPANS = 4;
  private static final CompiledDesign MODEL = ChipBlock.model("orrery", "A=5");

  private static final List<Material> MATERIALS =
      List.of(
          new Material(0xF0A040, 0),
          new Material(0xC0C0D0, 96),
          new Material(0x202830, 255),
          new Material(0x4080FF, 128));

  private static OrreryDriver chip;

  @BeforeAll
  static void open() {
    chip = new OrreryDriver(MODEL, ChipBlock.SEED);
  }

  @AfterAll
  static void close() {
    chip.close();
  }

  private static StandInScene scene() {
    return new StandInScene()
        .halfSpace(1, 0, 0, 1, -1)
        .sphere(2, 0, 0, 0.5, 1.5)
        .sphere(0, 2.5, -1, 0, 0.75)
        .sphere(3, -2, -2, -0.5, 0.5)
        .box(3, -3.5, 0.5, -1, -2.5, 1.5, 1)
        .box(0, 1.5, 1.5, -0.5, 2.5, 2.5, 0.5);
  }

  /** A lamp at the right, behind the eye: 2, -3 and 4 parts of the square root of 29. */
  private static Settings settings() {
    double length = Math.sqrt(29);
    long[] lamp = {
      Math.round(2 / length * 65536),
      Math.round(-3 / length * 65536),
      Math.round(4 / length * 65536)
    };
    long one = 1L << 32;
    return new Settings(
        new long[] {1 << 15, -7 << 16, 3 << 15},
        new long[] {-52000, 98304, 26000},
        new long[] {2600, 0, 0},
        new long[] {0, 0, -2600},
        lamp,
        new long[] {one / lamp[0], one / lamp[1], one / lamp[2]},
        0,
        512,
        40,
        0x203060);
  }

  private static Lighting lighting(Program program) {
    Settings settings = settings();
    Camera camera =
        Camera.of(
            program.formats().word(),
            settings.eye(),
            settings.corner(),
            settings.stepX(),
            settings.stepY());
    return Lighting.of(program.formats(), camera, new double[] {0, 0, 1})
        .withLamp(settings.lamp())
        .withEpsilon(settings.epsilon())
        .withAmbient(settings.ambient())
        .withBackground(settings.background())
        .withMaterials(MATERIALS);
  }

  private static void prepare() {
    chip.load(scene());
    chip.table(MATERIALS);
    chip.settings(settings(), WIDTH, HEIGHT);
    chip.picture(false, true, false);
  }

  @Test
  void aPictureIsTheModelsBitForBitAndNearTheIdeal() {
    prepare();
    Picture picture = chip.frame(WIDTH, HEIGHT);
    Program program = scene().program();
    Frame exact = ExactLight.of(program, lighting(program), SPANS).frame(WIDTH, HEIGHT);

    for (int y = 0; y < HEIGHT; y++) {
      for (int x = 0; x < WIDTH; x++) {
        String where = "pixel " + x + ", " + y;
        assertEquals(
            Integer.toHexString(exact.picture().at(x, y)),
            Integer.toHexString(picture.at(x, y)),
            where);
      }
    }
    assertEquals(exact.rays().primary(), chip.host().readWide(0x82));
    assertEquals(exact.rays().shadow(), chip.host().readWide(0x84));
    assertEquals(exact.rays().mirror(), chip.host().readWide(0x86));
    assertEquals(exact.rays().mirrorShadow(), chip.host().readWide(0x88));
    assertTrue(exact.rays().mirrorShadow() > 0);
    assertTrue(chip.host().readWide(0x80) > 100L * WIDTH * HEIGHT / 2);

    Frame ideal = IdealLight.of(program, lighting(program)).frame(WIDTH, HEIGHT);
    assertTrue(picture.difference(ideal.picture()).psnr() > 40, () -> "near the ideal");

    words(picture, Palette.levels(8, 8, 4), PlaneLayout.rows(8, 16));
    // The same again, from the other memory, with another palette in tiles.
    chip.picture(true, true, true);
    assertEquals(picture, chip.frame(WIDTH, HEIGHT));
    words(picture, Palette.levels(6, 6, 6), PlaneLayout.tiles(8, 8, 16));
  }

  private static void words(Picture picture, Palette palette, PlaneLayout layout) {
    CodePicture codes = Quantiser.of(palette).withDither(DitherMatrix.bayer(3)).convert(picture);
    long[] wanted = layout.pack(codes);
    List<Integer> words = chip.words();
    assertEquals(wanted.length, words.size());
    for (int i = 0; i < wanted.length; i++) {
      assertEquals(wanted[i], words.get(i).longValue(), "word " + i);
    }
  }

  @Test
  void aFrameThatIsGivenUpLeavesNothingBehind() {
    prepare();
    Picture picture = chip.frame(WIDTH, HEIGHT);
    for (int wait : new int[] {0, 1, 7, 300, 5000}) {
      chip.host().write(0x01, 1);
      chip.host().dut().cycles(wait);
      chip.host().refuses(true, 0x40, 5);
      chip.host().refuses(true, 0x12, 5);
      chip.host().write(0x01, 2);
      for (int i = 0; chip.host().read(0x02) != 4; i++) {
        assertTrue(i < 10_000, "busy after it was given up");
      }
      assertEquals(0, chip.host().read(0x03), "no frame is done");
      assertEquals(picture, chip.frame(WIDTH, HEIGHT));
    }
  }

  @Test
  void aStartWhileBusyIsFlaggedAndChangesNothing() {
    prepare();
    Picture picture = chip.frame(WIDTH, HEIGHT);
    chip.host().write(0x04, 1);
    chip.host().write(0x01, 1);
    chip.host().dut().cycles(300);
    chip.host().write(0x01, 1);
    assertEquals(4, chip.host().read(0x03));
    chip.host().write(0x03, 4);
    assertEquals(0, chip.host().read(0x03));
    chip.host().write(0x04, 7);
    chip.host().dut().cycles(1_000_000);
    assertEquals(1, chip.host().read(0x03));
    chip.host().write(0x03, 1);
    assertEquals(picture, chip.frame(WIDTH, HEIGHT));
  }

  @Test
  void memoriesPassMarchC() {
    HostChecks.memoriesPassMarchC(MODEL, 32, 1);
  }

  @Test
  void multiplierCorners() {
    HostChecks.multiplierCorners(MODEL, 2);
  }

  @Test
  void thePaletteIsLookedUp() {
    chip.host().write(0x18, 0);
    chip.host().write(0x19, 0);
    for (int code = 0; code < 256; code++) {
      chip.host().write(0x1A, code * 0x0101 ^ 0x1234);
      chip.host().write(0x1A, 255 - code);
    }
    for (int code = 0; code < 256; code++) {
      chip.host().dut().set("look_valid", 1);
      chip.host().dut().set("look_code", code);
      chip.host().dut().cycle();
      chip.host().dut().set("look_valid", 0);
      chip.host().dut().set("look_code", 255 - code);
      chip.host().dut().cycle();
      assertEquals(
          (255 - code) << 16 | code * 0x0101 ^ 0x1234, chip.host().dut().get("look_colour"));
    }
  }
}
