package dev.plumbline.frame;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.light.Camera;
import dev.plumbline.models.light.Lighting;
import dev.plumbline.models.picture.Picture;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.scene.Scene;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.run.PassMemoryDoor;
import dev.plumbline.run.PassesInHand;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.verdict.Verdict;
import dev.plumbline.verdict.Verdict.Outcome;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.function.Consumer;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.ResourceLock;

/** A frame that passed is drawn again only where something that bears on it has changed. */
@ResourceLock(PassMemoryDoor.SHARED)
class FramePassesTest {
  private static final Path PAINTER = Path.of("src/test/rtl/recipes/frame_painter.v");
  private static final SceneFormats FORMATS =
      SceneFormats.of(Format.signed(16, 16), Format.signed(2, 16));
  private static final int DUSK = 0x182038;

  @TempDir private Path folder;
  private final PassesInHand passes = new PassesInHand();
  private final List<Verdict> verdicts = new ArrayList<>();

  private FrameBench bench(String added) throws IOException {
    return bench(DUSK, added);
  }

  /** Paints every pixel in one colour. */
  private FrameBench bench(int colour, String added) throws IOException {
    String text = Files.readString(PAINTER).replace("{red, green, red ^ green}", "24'd" + colour);
    Path file = Files.writeString(folder.resolve("frame_painter.v"), text + added);
    return FrameBench.of(
            CompiledDesign.of(RtlSource.of(file), BuildOptions.defaults().withOptimisation(false)))
        .pixels(PixelPorts.of("px_valid", "px_ready", "px_x", "px_y", "px_rgb"))
        .done("finished")
        .timeout(20_000)
        .begin(started(2))
        .recorder(passes);
  }

  /** Starts it after so many cycles of reset: what a function has captured is part of the key. */
  private static Consumer<Dut> started(int cycles) {
    return dut -> {
      dut.set("rst", 1);
      dut.cycles(cycles);
      dut.set("rst", 0);
      dut.set("go", 1);
      dut.cycle();
      dut.set("go", 0);
    };
  }

  private static FrameBench flat(FrameBench bench, int colour) {
    Picture picture = Picture.of(24, 10);
    for (int pixel = 0; pixel < 240; pixel++) {
      picture.set(pixel % 24, pixel / 24, colour);
    }
    return bench.exact(picture);
  }

  /** A sphere behind the eye, so that the background is all there is to see. */
  private static FrameBench scene(FrameBench bench, int radius, int ambient) {
    Program program =
        Scene.parse(
                "unit 100 mm\nmaterial ivory is 0\npiece ball take sphere at 0, -3000, 0 mm radius "
                    + radius
                    + "00 mm of ivory done\n")
            .program(FORMATS, new ProgramLimits(64, 4, 16));
    Camera camera =
        Camera.looking(
            FORMATS.word(), new double[] {0, -9, 0}, new double[] {0, 0, 0}, 1.0, 24, 10);
    Lighting lighting =
        Lighting.of(FORMATS, camera, new double[] {-3, -4, 7})
            .withBackground(DUSK)
            .withAmbient(ambient);
    return bench.scene(program, lighting, 4, 24, 10);
  }

  /** Runs benches one after the other at one place in a test, each as in a process of its own. */
  @SafeVarargs
  private List<Outcome> apart(Callable<FrameBench>... benches) throws Exception {
    List<Outcome> outcomes = new ArrayList<>();
    for (Callable<FrameBench> bench : benches) {
      PassMemoryDoor.anotherProcess();
      verdicts.add(bench.call().run());
      outcomes.add(verdicts.get(verdicts.size() - 1).outcome());
    }
    return outcomes;
  }

  @Test
  void aPictureAndAllThatTheFrameIsDrawnWithBearOnIt() throws Exception {
    assertEquals(
        List.of(
            Outcome.PASS, // for the first time
            Outcome.UNCHANGED,
            Outcome.PASS, // another seed
            Outcome.PASS, // other RTL
            Outcome.PASS, // pixels taken at another pace
            Outcome.PASS, // begun in another way
            Outcome.MISMATCH, // a picture that was not drawn
            Outcome.MISMATCH, // what failed always runs
            Outcome.PASS, // its pictures are wanted
            Outcome.UNCHANGED), // the first is still there
        apart(
            () -> flat(bench(""), DUSK),
            () -> flat(bench(""), DUSK),
            () -> flat(bench(""), DUSK).seed(2),
            () -> flat(bench("//\n"), DUSK),
            () -> flat(bench(""), DUSK).ready(Pacing.backToBack()),
            () -> flat(bench(""), DUSK).begin(started(3)),
            () -> flat(bench(""), DUSK + 1),
            () -> flat(bench(""), DUSK + 1),
            () -> flat(bench(""), DUSK).alwaysShown(),
            () -> flat(bench(""), DUSK)));
    assertEquals(240, verdicts.get(1).cases());
    assertEquals(verdicts.get(0).cycles(), verdicts.get(1).cycles());
    String said = verdicts.get(1).explanation();
    assertTrue(said.startsWith("passed on 2026-11-28 in run evening"), said);
    assertTrue(!verdicts.get(8).pictures().isEmpty());
  }

  @Test
  void aSceneAndItsLightBearOnIt() throws Exception {
    assertEquals(
        List.of(
            Outcome.PASS,
            Outcome.UNCHANGED,
            Outcome.PASS, // another scene
            Outcome.PASS, // another light
            Outcome.UNCHANGED,
            Outcome.PASS, // a picture in the place of the model's
            Outcome.MISMATCH), // what the model gives, on RTL that draws it otherwise
        apart(
            () -> scene(bench(""), 2, 56),
            () -> scene(bench(""), 2, 56),
            () -> scene(bench(""), 3, 56),
            () -> scene(bench(""), 2, 57),
            () -> scene(bench(""), 2, 56),
            () -> flat(scene(bench(""), 2, 56), DUSK),
            () -> scene(bench(DUSK + 1, ""), 2, 56)));
  }
}
