package dev.plumbline.samples;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.frame.FrameBench;
import dev.plumbline.frame.PixelPorts;
import dev.plumbline.frame.RaySignals;
import dev.plumbline.models.light.Lighting;
import dev.plumbline.models.program.Program;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.stimulus.Pacing;
import java.nio.file.Path;
import java.util.Map;

/**
 * A demo scene as the whole chip draws it, held to the models pixel by pixel.
 *
 * @param scene which
 * @param width pixels in a row
 * @param height rows
 */
public record SampleFrame(SampleScene scene, int width, int height) {
  /** Pixels of a picture as the chip's memory holds it: 256 by 192. */
  public static final long FULL = 256 * 192;

  /** What its rays are timed by, in a chip with one context. */
  public static final RaySignals RAYS =
      new RaySignals(
          "orrery.rays.ray_valid",
          "orrery.rays.ray_ready",
          "orrery.rays.result_valid",
          "orrery.rays.result_ready");

  /** A picture of so many pixels or a few less, three high for each four wide, up to the full. */
  public static SampleFrame of(SampleScene scene, long pixels) {
    int height = (int) Math.max(1, Math.sqrt(0.75 * Math.min(FULL, pixels)));
    return new SampleFrame(scene, (int) Math.max(1, Math.min(FULL, pixels) / height), height);
  }

  /**
   * The chip's sources.
   *
   * @param folder the RTL's, or a copy of it
   * @param contexts pixels in hand at a time, 1 to 4
   * @return top module {@code orrery}
   */
  public static RtlSource rtl(Path folder, int contexts) {
    return SampleRtl.in(folder, "orrery", Map.of("CONTEXTS", Integer.toString(contexts)));
  }

  /** What it is taken with. */
  public Lighting lighting() {
    return scene.lighting(width, height);
  }

  /**
   * The bench over a model of the chip.
   *
   * @param model the chip as it stands, or a copy of it
   * @param contexts as {@link #rtl} was given
   * @return a bench that still has the standard seed, and keeps nothing
   */
  public FrameBench bench(CompiledDesign model, int contexts) {
    Program program = scene.program();
    Lighting lighting = lighting();
    return FrameBench.of(model)
        .named(toString())
        .pixels(PixelPorts.of("pixel_valid", "pixel_x", "pixel_y", "pixel_colour"))
        .done("irq")
        .scene(program, lighting, SampleExecutor.STANDARD.spans(), width, height)
        .contexts(contexts)
        .ready(Pacing.backToBack())
        .begin(dut -> begin(dut, program, lighting));
  }

  private void begin(Dut dut, Program program, Lighting lighting) {
    OrreryHost host = new OrreryHost(dut);
    host.reset();
    host.load(program);
    host.materials(scene.materials());
    host.light(lighting, width, height);
    host.start();
  }

  @Override
  public String toString() {
    return "orrery scene " + scene.name();
  }
}
