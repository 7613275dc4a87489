package dev.plumbline.samples.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.faults.Fault;
import dev.plumbline.frame.FrameBench;
import dev.plumbline.models.light.BoundedLight;
import dev.plumbline.models.light.ExactLight;
import dev.plumbline.models.light.IdealLight;
import dev.plumbline.models.picture.Picture;
import dev.plumbline.report.RunReport;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.samples.SampleExecutor;
import dev.plumbline.samples.SampleFrame;
import dev.plumbline.samples.SampleRtl;
import dev.plumbline.samples.SampleScene;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.ShownPicture;
import dev.plumbline.verdict.Verdict;
import java.awt.image.BufferedImage;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The demo scenes as the whole chip draws them, small; {@code -Pgallery} draws them in full. */
class GalleryTest {
  private static final BuildOptions QUICK = BuildOptions.defaults().withOptimisation(false);
  private static final int CONTEXTS = 2;
  private static final long PIXELS = 192;

  private static final Pattern TIME =
      Pattern.compile(
          "frame, ([\\d.]+) a pixel; with \\d in hand ([\\d.]+) a ray, ([\\d.]+) an operation"
              + "\\s+\\d+ rays, ([\\d.]+) a pixel");

  private static final Pattern KINDS =
      Pattern.compile(
          "primary ([\\d.]+), shadow ([\\d.]+), mirror ([\\d.]+), mirror shadow ([\\d.]+)");

  /** The sphere's entry is the exit: a fault of the executor. */
  private static final Fault INSIDE_OUT =
      Fault.of(
          "entry-is-exit",
          "sphere_pipeline.sv",
          "projection_root_q) - half_chord",
          "projection_root_q) + half_chord");

  @TempDir private Path folder;

  static List<SampleScene> scenes() {
    return SampleScene.all();
  }

  private static CompiledDesign model(int contexts) {
    return CompiledDesign.of(SampleFrame.rtl(SampleRtl.FOLDER, contexts), QUICK);
  }

  private static FrameBench bench(SampleFrame frame, CompiledDesign model, int contexts) {
    return frame.bench(model, contexts).seed(ChipBlock.SEED);
  }

  private static Picture ideal(SampleFrame frame) {
    return IdealLight.of(frame.scene().program(), frame.lighting())
        .frame(frame.width(), frame.height())
        .picture();
  }

  @ParameterizedTest
  @MethodSource("scenes")
  void isDrawnBitForBit(SampleScene scene) {
    SampleFrame frame = SampleFrame.of(scene, PIXELS);
    Verdict verdict =
        bench(frame, model(CONTEXTS), CONTEXTS)
            .beside(ideal(frame))
            .alwaysShown()
            .recorder(RunReport.current())
            .check();
    assertEquals(frame.width() * frame.height(), verdict.cases());
    assertEquals(
        List.of("expected", "actual", "difference", "cycles"),
        verdict.pictures().stream().map(ShownPicture::file).toList());
    assertTrue(verdict.facts().contains(" dB from the mathematics"), verdict.facts());
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 2, 3, 4})
  @Tag("thorough")
  void isTheSameWithAnyNumberOfContexts(int contexts) {
    boolean isAnEnd = contexts == 1 || contexts == 4;
    assumeTrue(isAnEnd || Boolean.getBoolean("plumbline.long")); // each is a chip to be built
    for (SampleScene scene : scenes()) {
      holdsToThePage(
          scene.name() + " | " + contexts,
          TIME,
          bench(SampleFrame.of(scene, 4 * PIXELS), model(contexts), contexts).check());
    }
  }

  /** What {@code -Pgallery} draws in RTL is the model's, bit for bit. */
  @ParameterizedTest
  @MethodSource("scenes")
  @Tag("thorough")
  void picturesOfTheReadmeAreWhatIsDrawn(SampleScene scene) throws IOException {
    Path file = SampleRtl.FOLDER.resolveSibling("gallery").resolve(scene.name() + ".png");
    BufferedImage shown = ImageIO.read(file.toFile());
    SampleFrame frame = SampleFrame.of(scene, SampleFrame.FULL);
    Picture drawn =
        ExactLight.of(scene.program(), frame.lighting(), SampleExecutor.STANDARD.spans())
            .frame(frame.width(), frame.height())
            .picture();
    assertEquals(
        drawn.width() + " by " + drawn.height(), shown.getWidth() + " by " + shown.getHeight());
    for (int y = 0; y < drawn.height(); y++) {
      for (int x = 0; x < drawn.width(); x++) {
        assertEquals(drawn.at(x, y), shown.getRGB(x, y) & 0xFFFFFF, "pixel " + x + ", " + y);
      }
    }
  }

  /** With one pixel in hand at a time. */
  @ParameterizedTest
  @MethodSource("scenes")
  @Tag("thorough")
  void raysAreTimedByKind(SampleScene scene) {
    holdsToThePage(
        scene.name() + " | alone",
        KINDS,
        bench(SampleFrame.of(scene, 4 * PIXELS), model(1), 1).raySignals(SampleFrame.RAYS).check());
  }

  /** What a verdict measured stands in a row of the samples' page, to five in a hundred. */
  private static void holdsToThePage(String row, Pattern numbers, Verdict verdict) {
    String start = "| " + row + " | ";
    String cells = page().lines().filter(line -> line.startsWith(start)).findFirst().orElseThrow();
    String[] shown = cells.substring(start.length()).split(" \\| ", -1);
    Matcher measured = numbers.matcher(verdict.facts());
    assertTrue(measured.find(), verdict.facts());
    for (int i = 0; i < measured.groupCount(); i++) {
      double is = Double.parseDouble(measured.group(i + 1));
      assertEquals(is, Double.parseDouble(shown[i].replace(" |", "")), 0.05 * is, verdict.facts());
    }
  }

  private static String page() {
    try {
      return Files.readString(SampleRtl.FOLDER.resolveSibling("README.md"));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Whoever has another order of evaluation is held to bounds: so is the sample. */
  @ParameterizedTest
  @MethodSource("scenes")
  @Tag("thorough")
  void liesWithinTheBoundsOfItsFormats(SampleScene scene) {
    SampleFrame frame = SampleFrame.of(scene, 4 * PIXELS);
    Verdict verdict =
        bench(frame, model(CONTEXTS), CONTEXTS)
            .bounded(
                BoundedLight.of(scene.program(), frame.lighting())
                    .frame(frame.width(), frame.height()))
            .beside(ideal(frame))
            .recorder(RunReport.current())
            .alwaysShown()
            .check();
    assertTrue(verdict.facts().contains("pixels whose colour the precision leaves open"));
    assertEquals("open", verdict.pictures().get(4).file());
  }

  /** A wrong pixel names its rays, and the command that leads to the operation that is wrong. */
  @Test
  @Tag("thorough")
  void aWrongPixelLeadsToTheOperation() {
    RtlSource chip = INSIDE_OUT.plantedIn(SampleFrame.rtl(SampleRtl.FOLDER, 1), folder);
    RtlSource executor =
        INSIDE_OUT.plantedIn(SampleExecutor.STANDARD.rtl(), folder.resolve("executor"));
    RunReport run = RunReport.open(folder.resolve("reports"), "frames");
    FrameBench bench =
        bench(SampleFrame.of(scenes().get(0), 200), CompiledDesign.of(chip, QUICK), 1)
            .executor(
                () -> CompiledDesign.of(executor, QUICK), SampleExecutor.STANDARD.promise().build())
            .repeat("mvn test -Dtest=GalleryTest")
            .recorder(run);
    Verdict frame = bench.run();
    assertEquals(Verdict.Outcome.MISMATCH, frame.outcome(), frame.facts());
    Mismatch first = frame.first().orElseThrow();
    int width = SampleFrame.of(scenes().get(0), 200).width();
    int x = (int) (first.caseNumber() % width);
    int y = (int) (first.caseNumber() / width);
    assertTrue(
        frame.facts().contains("of pixel " + x + ", " + y + ", in the model:"), frame.facts());
    assertTrue(
        frame.brief().contains("mvn test -Dtest=GalleryTest -Dplumbline.pixel=" + x + "," + y),
        frame.brief());

    Verdict traced = bench.onlyPixel(x, y).run();
    assertEquals(Verdict.Outcome.MISMATCH, traced.outcome(), traced.facts());
    assertTrue(traced.facts().contains("sphere"), traced.facts());
    assertTrue(traced.evidenceFolder().isPresent());
  }
}
