package dev.plumbline.blocks;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.check.Bench;
import dev.plumbline.contract.ContractException;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.faults.Fault;
import dev.plumbline.junit.DesignUnderTest;
import dev.plumbline.models.picture.DitherMatrix;
import dev.plumbline.models.picture.Palette;
import dev.plumbline.models.picture.PlaneLayout;
import dev.plumbline.models.picture.Quantiser;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.verdict.Verdict;
import java.nio.file.Path;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** A converter of another hand, right and wrong, against palette, dither and planes as declared. */
class PictureBenchTest {
  private static final Quantiser DITHERED =
      Quantiser.of(Palette.levels(8, 8, 4)).withDither(DitherMatrix.bayer(3));

  private static final RtlSource WRITER =
      RtlSource.of(Path.of("src/test/rtl/recipes/bitmap_writer.v"));

  @TempDir private Path folder;
  private final Printed printed = new Printed();

  private PictureBench bench(Bench.Builder bench) {
    return PictureBench.of(bench)
        .size(20, 11)
        .quantiser(DITHERED)
        .layout(PlaneLayout.rows(8, 16))
        .port("x", "px_x")
        .port("y", "px_y")
        .port("colour", "px_rgb")
        .port("last", "px_final")
        .port("word", "wd_bits")
        .port("end", "wd_final")
        .valid("px_vld", "wd_vld")
        .ready("px_rdy", "wd_rdy")
        .resetLow("nrst")
        .cases(3_000)
        .printTo(printed.stream());
  }

  @Test
  @DesignUnderTest(sources = "src/test/rtl/recipes/bitmap_writer.v", top = "bitmap_writer")
  void rowsOfPlanesPass(Bench.Builder bench) {
    Verdict verdict = bench(bench).check();
    assertTrue(verdict.cases() >= 10 * 2 * 8 * 11, verdict.cases() + " words");
    assertTrue(printed.text().contains(" x px_x u5.0"), printed.text());
  }

  @Test
  @Tag("thorough")
  void tilesOfAnotherSizePass() {
    RtlSource source =
        WRITER.withParameter("TILES", "1").withParameter("W", "13").withParameter("H", "16");
    bench(Bench.of(CompiledDesign.of(source)))
        .size(13, 16)
        .layout(PlaneLayout.tiles(8, 8, 16))
        .check();
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = ';',
      value = {
        "{q[0], y[0], q[1], y[1], q[2], y[2]}; {q[0], x[0], q[1], x[1], q[2], x[2]}",
        "(rest << 6) > need; (rest << 6) >= need",
        "* 16'd255 + 16'd127; * 16'd255 + 16'd255",
        "covered & code[plane]; code[plane]",
        "px_rgb[7:0], 3'd3; px_rgb[7:0], 3'd2",
        "{wd_bits[14:0], covered & code[plane]}; {covered & code[plane], wd_bits[15:1]}",
        "covered & code[plane]; covered & code[~plane]",
        "wd_final <= all_end; wd_final <= last_row"
      })
  @Tag("thorough")
  void faultsAreSeen(String was, String is) throws Exception {
    Fault fault = Fault.of("writer", "bitmap_writer.v", was, is);
    RtlSource planted = fault.plantedIn(WRITER, folder);
    CompiledDesign model =
        CompiledDesign.of(planted, BuildOptions.defaults().withOptimisation(false));
    Verdict verdict = bench(Bench.of(model)).cases(12_000).run();
    assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome(), verdict.facts());
  }

  @Test
  @DesignUnderTest(sources = "src/test/rtl/recipes/bitmap_writer.v", top = "bitmap_writer")
  @Tag("thorough")
  void whatIsNotSetIsAskedFor(Bench.Builder bench) {
    ContractException asked =
        assertThrows(ContractException.class, () -> PictureBench.of(bench).size(8, 8).run());
    assertEquals(
        "PictureBench on module bitmap_writer does not know its palette; set"
            + " .quantiser(Quantiser.of(PALETTE)).",
        asked.getMessage());
  }
}
