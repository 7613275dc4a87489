package dev.plumbline.samples.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.faults.Fault;
import dev.plumbline.frame.FrameBench;
import dev.plumbline.models.light.BoundedLight;
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
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
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
  @ValueSource(ints = {1, 3, 4})
  @Tag("thorough")
  void isTheSameWithAnyNumberOfContexts(int contexts) {
    for (SampleScene scene : scenes()) {
      Verdict verdict = bench(SampleFrame.of(scene, 4 * PIXELS), model(contexts), contexts).check();
      assertEquals(contexts == 1, verdict.facts().contains("by kind of ray"), verdict.facts());
      System.out.println(scene.name() + ", " + contexts + " contexts\n" + verdict.facts());
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
    assertTrue(traced.evidenceFolder().flatMap(Optional::of).isPresent());
  }
}
