package dev.plumbline.samples;

import dev.plumbline.blocks.PictureBench;
import dev.plumbline.bus.Bus;
import dev.plumbline.bus.RegisterBench;
import dev.plumbline.bus.RegisterFile;
import dev.plumbline.check.Bench;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.frame.FrameBench;
import dev.plumbline.frame.PixelPorts;
import dev.plumbline.models.picture.DitherMatrix;
import dev.plumbline.models.picture.Palette;
import dev.plumbline.models.picture.Picture;
import dev.plumbline.models.picture.PlaneLayout;
import dev.plumbline.models.picture.Quantiser;
import dev.plumbline.regression.Regression;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.verdict.Verdict;
import java.io.OutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Map;

/**
 * Benches of the chip's blocks around the executor that stand alone: the host port, by its register
 * map, the ray sequencer, by pixels and what their rays meet, the frame controller, by a frame, and
 * the picture converter, by pictures. Each block stands in a module of {@code rtl/benches} with
 * what it needs around it.
 */
public final class ChipBenches {
  /** Words of a picture wait for those of the picture before. */
  private static final int LONGEST = 20_000;

  /** The most cycles after which a frame is given up: less than any takes. */
  private static final int GIVEN_UP = 81;

  /** Most rows of a frame. */
  private static final int LARGEST = 4_096;

  private ChipBenches() {}

  /**
   * A bench.
   *
   * @param name in reports; the block is its first word
   * @param rtl the block and what is around it
   * @param runner runs the bench over a model of that
   */
  public record ChipBench(String name, RtlSource rtl, Runner runner) {}

  /** Runs a bench over a model. */
  @FunctionalInterface
  public interface Runner {
    /**
     * Runs it.
     *
     * @param model of the RTL as it stands, or of a copy
     * @param name in reports
     * @param settings cases, seed, recorder
     * @return what was found
     */
    Verdict run(CompiledDesign model, String name, Regression.Settings settings);
  }

  /**
   * Every such bench.
   *
   * @return the sharpest of each block first
   */
  public static List<ChipBench> all() {
    RtlSource pictures = around("picture_by_pixel", Map.of("XW", "7", "YW", "6"));
    return List.of(
        new ChipBench(
            "host_port registers", around("host_memories", Map.of()), ChipBenches::registers),
        new ChipBench(
            "ray_sequencer pixels", around("sequencer_with_rays", Map.of()), SequencerBench::run),
        new ChipBench(
            "frame_controller frames",
            around("frame_by_places", Map.of("CONTEXTS", "3")),
            ChipBenches::frame),
        new ChipBench(
            "picture_converter rows",
            pictures,
            (model, name, to) -> picture(model, name, to, false, 37, 19)),
        new ChipBench(
            "picture_converter tiles",
            pictures,
            (model, name, to) -> picture(model, name, to, true, 64, 33)));
  }

  private static RtlSource around(String bench, Map<String, String> parameters) {
    RtlSource rtl =
        RtlSource.of(SampleRtl.FOLDER.resolve("benches").resolve(bench + ".sv"))
            .withTop(bench)
            .withIncludeFolder(SampleRtl.FOLDER)
            .withLibraryFolder(SampleRtl.FOLDER);
    for (var parameter : parameters.entrySet()) {
      rtl = rtl.withParameter(parameter.getKey(), parameter.getValue());
    }
    return rtl;
  }

  private static Verdict registers(CompiledDesign model, String name, Regression.Settings to) {
    return RegisterBench.of(
            model, RegisterFile.read(SampleRtl.FOLDER.resolve("host_port.registers")))
        .named(name)
        .reached(ChipBenches::bus)
        .cases(Math.max(1, to.cases() / 10))
        .seed(to.seed())
        .recorder(to.recorder())
        .repeat(to.repeat())
        .run();
  }

  private static Bus bus(Dut dut) {
    dut.set("rst", 1);
    dut.cycles(2);
    dut.set("rst", 0);
    return Bus.of(dut)
        .withAddress("bus_address")
        .withData("bus_wdata", "bus_rdata")
        .withStrobe("bus_valid", "bus_write")
        .withAcknowledge("bus_ready")
        .withError("bus_error")
        .withTimeout(20);
  }

  /**
   * Pixels that tell their places, of a frame as wide as no power of two, after some that were
   * given up. The module around the controller passes done on only where counts and the like were
   * right.
   */
  private static Verdict frame(CompiledDesign model, String name, Regression.Settings to) {
    int width = 61;
    int height = (int) Math.max(1, Math.min(LARGEST, to.cases() / 10 / width));
    Picture places = Picture.of(width, height);
    for (int y = 0; y < height; y++) {
      for (int x = 0; x < width; x++) {
        places.set(x, y, y << 12 | x);
      }
    }
    return FrameBench.of(model)
        .named(name)
        .pixels(PixelPorts.of("pixel_valid", "pixel_ready", "pixel_x", "pixel_y", "pixel_colour"))
        .done("done")
        .exact(places)
        .begin(dut -> begin(dut, width, height))
        .seed(to.seed())
        .recorder(to.recorder())
        .repeat(to.repeat())
        .run();
  }

  private static void begin(Dut dut, int width, int height) {
    dut.set("rst", 1);
    dut.cycles(2);
    dut.set("rst", 0);
    dut.set("width_less_1", width - 1);
    dut.set("height_less_1", height - 1);
    for (int given = 1; given <= GIVEN_UP; given *= 3) {
      pulse(dut, "start");
      dut.cycles(given);
      pulse(dut, "abort_frame");
      dut.set("pixel_ready", 1); // what is on offer stays until it is taken
      for (int cycle = 0; dut.get("busy") == 1 && cycle < LONGEST; cycle++) {
        dut.cycle();
      }
      dut.set("pixel_ready", 0);
    }
    pulse(dut, "start");
    dut.cycles(GIVEN_UP);
    pulse(dut, "start"); // while busy: nothing may come of it
  }

  private static void pulse(Dut dut, String port) {
    dut.set(port, 1);
    dut.cycle();
    dut.set(port, 0);
  }

  /** Rows in 3-3-2, or tiles in 6 x 6 x 6 colours; dithered. */
  private static Verdict picture(
      CompiledDesign model,
      String name,
      Regression.Settings to,
      boolean tiles,
      int width,
      int height) {
    Palette palette = tiles ? Palette.levels(6, 6, 6) : Palette.levels(8, 8, 4);
    return PictureBench.of(
            Bench.of(model).named(name).seed(to.seed()).recorder(to.recorder()).repeat(to.repeat()))
        .size(width, height)
        .quantiser(Quantiser.of(palette).withDither(DitherMatrix.bayer(3)))
        .layout(tiles ? PlaneLayout.tiles(8, 8, 16) : PlaneLayout.rows(8, 16))
        .port("x", "pixel_x")
        .port("y", "pixel_y")
        .port("colour", "pixel_colour")
        .port("last", "pixel_last")
        .port("word", "out_word")
        .port("end", "out_end")
        .hold("width_less_1", width - 1)
        .hold("height_less_1", height - 1)
        .hold("palette", tiles ? 1 : 0)
        .hold("dither", 1)
        .hold("layout", tiles ? 1 : 0)
        .valid("pixel_valid", "out_valid")
        .ready("pixel_ready", "out_ready")
        .latencyBetween(1, LONGEST)
        .cases(Math.max(1, to.cases() / 10))
        .printTo(new PrintStream(OutputStream.nullOutputStream(), true, StandardCharsets.UTF_8))
        .run();
  }
}
