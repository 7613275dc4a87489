package dev.plumbline.frame;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.ContractException;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.faults.Fault;
import dev.plumbline.models.picture.Picture;
import dev.plumbline.report.RunReport;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.verdict.CycleBudget;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Verdict;
import java.awt.image.BufferedImage;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** A foreign painter of frames, right and wrong. */
class FrameBenchTest {
  private static final RtlSource PAINTER =
      RtlSource.of(Path.of("src/test/rtl/recipes/frame_painter.v"));

  @TempDir private Path folder;

  private static Picture expected() {
    Picture picture = Picture.of(24, 10);
    for (int y = 0; y < 10; y++) {
      for (int x = 0; x < 24; x++) {
        picture.set(x, y, 10 * x << 16 | 20 * y << 8 | (10 * x ^ 20 * y));
      }
    }
    return picture;
  }

  private static void start(Dut dut) {
    dut.set("rst", 1);
    dut.cycles(2);
    dut.set("rst", 0);
    dut.set("go", 1);
    dut.cycle();
    dut.set("go", 0);
  }

  private static FrameBench bench(RtlSource source) {
    CompiledDesign model =
        CompiledDesign.of(source, BuildOptions.defaults().withOptimisation(false));
    return FrameBench.of(model)
        .pixels(PixelPorts.of("px_valid", "px_ready", "px_x", "px_y", "px_rgb"))
        .done("finished")
        .exact(expected())
        .timeout(20_000)
        .begin(FrameBenchTest::start);
  }

  @Test
  void rightFramePassesInWhateverOrder() {
    Verdict verdict = bench(PAINTER).beside(expected()).check();
    assertEquals(240, verdict.cases());
    assertTrue(verdict.facts().contains("Infinity dB from the mathematics"), verdict.facts());
    assertTrue(verdict.pictures().isEmpty());
  }

  /** 24 kHz over 12 frames a second are 2,000 cycles a frame, and over 240 pixels 8.3 a pixel. */
  @Test
  void aBudgetStandsBesideWhatTheFrameTook() {
    FrameBudget budget = new FrameBudget(24_000, 1, 24, 10, 12, 1);
    Verdict verdict = bench(PAINTER).budget(budget).check();
    List<CycleBudget> shown = verdict.checked().budgets();
    assertEquals(
        List.of("a frame at most 2000.0", "a pixel, from its context at most 8.3"),
        shown.stream().map(one -> one.of() + " " + one.promised()).toList());
    String cycles = shown.get(0).measured().replace(".0", " cycles");
    assertTrue(verdict.facts().contains("; " + cycles), cycles + " in " + verdict.facts());
    double each = Double.parseDouble(shown.get(0).measured()) / 240;
    assertEquals(each, Double.parseDouble(shown.get(1).measured()), 0.06);

    Picture larger = Picture.of(24, 11); // its last row never comes
    assertEquals(
        "",
        bench(PAINTER).exact(larger).budget(budget).run().checked().budgets().get(0).measured());
    assertEquals(List.of(), bench(PAINTER).run().checked().budgets());
  }

  @Test
  void wrongPixelsLeavePicturesAndTheFirstOfThem() throws Exception {
    Picture other = expected();
    other.set(7, 3, 0x123456);
    other.set(8, 3, other.at(8, 3) ^ 0x03);
    RunReport run = RunReport.open(folder, "frames");
    Verdict verdict = bench(PAINTER).exact(other).recorder(run).run();
    assertEquals(2, verdict.mismatches());
    Mismatch first = verdict.first().orElseThrow();
    assertEquals("px_rgb", first.signal());
    assertTrue(verdict.facts().contains("allowed") || verdict.facts().contains("expected"));
    Path evidence = verdict.evidenceFolder().orElseThrow();
    int shown = ImageIO.read(evidence.resolve("expected.png").toFile()).getRGB(7, 3) & 0xFFFFFF;
    assertEquals(0x123456, shown);
    assertEquals(24, ImageIO.read(evidence.resolve("actual.png").toFile()).getWidth());
    BufferedImage difference = ImageIO.read(evidence.resolve("difference.png").toFile());
    int apart = difference.getRGB(8, 3) & 0xFFFFFF;
    assertEquals(10 + ScaleBar.HEIGHT, difference.getHeight());
    assertTrue(apart != 0 && apart >> 8 == 0, Integer.toHexString(apart));
    assertTrue(Files.exists(evidence.resolve("cycles.png")));
    String page = Files.readString(run.folder().resolve("index.html"));
    assertTrue(page.contains("/difference.png\" width=\""), page);
    assertTrue(page.contains("<figcaption>difference, times "), page);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '~',
      value = {
        "8'd20 ~ 8'd21 ~ VALUE_WRONG",
        "odd_x + 8'd2 >= W ? 8'd1 ~ odd_x + 8'd2 >= W ? 8'd3 ~ RESULT_LOST",
        ">= W ? 8'd0 : even_x + 8'd2; ~ >= W ? 8'd0 : even_x; ~ RESULT_REPEATED",
        "px_x <= x; ~ px_x <= x + 8'd1; ~ VALUE_WRONG",
        "red ^ green}; ~ red ^ green}; if (x == 8'd20 && y == 8'd9) finished <= 1; ~ LATE",
        "free = !px_valid || px_ready; ~ free = 1'b1; ~ CHANGED_WHILE_STALLED",
        "odd_left = odd_y < H; ~ odd_left = odd_y <= H; ~ VALID_WITHOUT_CASE",
        "if (px_valid && px_ready) px_valid <= 0; ~ px_valid <= 0; ~ WITHDRAWN_WHILE_STALLED",
        "finished <= 1; ~ finished <= 0; ~ VALID_MISSING"
      })
  @Tag("thorough")
  void faultsAreSeen(String was, String is, Mismatch.Kind kind) throws Exception {
    Fault fault = Fault.of("painter", "frame_painter.v", was, is);
    Verdict verdict = bench(fault.plantedIn(PAINTER, folder)).run();
    assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome(), verdict.facts());
    assertTrue(
        verdict.kept().stream().anyMatch(mismatch -> mismatch.kind() == kind), verdict.facts());
  }

  @Test
  void whatIsNotSetIsAskedFor() {
    CompiledDesign model =
        CompiledDesign.of(PAINTER, BuildOptions.defaults().withOptimisation(false));
    ContractException asked =
        assertThrows(ContractException.class, () -> FrameBench.of(model).run());
    assertEquals(
        "FrameBench on module frame_painter does not know on which ports pixels come out; set"
            + " .pixels(PixelPorts.of(...)).",
        asked.getMessage());
  }
}
