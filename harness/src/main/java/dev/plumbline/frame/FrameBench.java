package dev.plumbline.frame;

import dev.plumbline.contract.ContractException;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.cosim.DutException;
import dev.plumbline.cosim.DutOptions;
import dev.plumbline.models.light.BoundedFrame;
import dev.plumbline.models.picture.Picture;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.verdict.Checked;
import dev.plumbline.verdict.Origin;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Verdict;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;

/**
 * Holds a whole frame of any chip, pixel by pixel in whatever order they come, to a picture or to
 * bounds.
 *
 * <pre>{@code
 * @DesignUnderTest(sources = "rtl/renderer.v")
 * class RendererTest {
 *   @Test
 *   void drawsTheRings(CompiledDesign model) {
 *     FrameBench.of(model)
 *         .pixels(PixelPorts.of("px_valid", "px_ready", "px_x", "px_y", "px_rgb"))
 *         .done("frame_done")
 *         .exact(ExactLight.of(program, lighting, 4).frame(64, 40).picture())
 *         .begin(dut -> { ... })             // reset, load the scene, start
 *         .recorder(RunReport.current())
 *         .check();
 *   }
 * }
 * }</pre>
 *
 * <p>Every pixel of the picture has to come once, none twice, none from outside. Where there is a
 * ready port, pixels are made to wait, and have to stand still meanwhile. Without {@link #done} the
 * frame is over with its last pixel; with it, at that port's first 1, after which no pixel may
 * come. Evidence of a mismatch are the pictures {@code expected.png}, {@code actual.png}, {@code
 * difference.png} (amplified, its caption says how much) and {@code cycles.png} (cycles since the
 * pixel before, by logarithm), beside the first wrong pixels in {@code mismatch.csv}.
 */
public final class FrameBench {
  private static final long TIMEOUT = 1_000_000;

  private final CompiledDesign model;
  private String name;
  private PixelPorts ports;
  private Optional<String> done = Optional.empty();
  private FrameReference reference;
  private Picture ideal;
  private Consumer<Dut> begin;
  private Pacing ready = Pacing.varied();
  private DutOptions options = DutOptions.defaults();
  private long seed = 1;
  private long timeout = TIMEOUT;
  private Recorder recorder = Recorder.none();
  private String repeat = "";
  private boolean alwaysShown;

  private FrameBench(CompiledDesign model) {
    this.model = model;
    this.name = model.design().top();
  }

  /**
   * Starts a bench.
   *
   * @param model the chip, or whatever puts out pixels
   * @return a bench that still needs its ports, what is expected, and how a frame begins
   */
  public static FrameBench of(CompiledDesign model) {
    return new FrameBench(model);
  }

  /**
   * Names the bench.
   *
   * @param bench the name; the top module's unless set
   * @return this bench
   */
  public FrameBench named(String bench) {
    name = bench;
    return this;
  }

  /**
   * Sets the ports on which pixels come out.
   *
   * @param pixels which
   * @return this bench
   */
  public FrameBench pixels(PixelPorts pixels) {
    ports = pixels;
    return this;
  }

  /**
   * Names the output that says that the frame is over.
   *
   * @param port of one bit, high for a cycle or longer, and low while the frame is made
   * @return this bench
   */
  public FrameBench done(String port) {
    done = Optional.of(port);
    return this;
  }

  /**
   * Holds every pixel to one colour.
   *
   * @param picture of the size of the frame
   * @return this bench
   */
  public FrameBench exact(Picture picture) {
    reference = FrameReference.of(picture);
    return this;
  }

  /**
   * Holds every pixel to bounds.
   *
   * @param bounds of the size of the frame
   * @return this bench
   */
  public FrameBench bounded(BoundedFrame bounds) {
    reference = FrameReference.of(bounds);
    return this;
  }

  /**
   * Measures how far the frame is from the mathematics; it is not held to that.
   *
   * @param picture of the size of the frame
   * @return this bench
   */
  public FrameBench beside(Picture picture) {
    ideal = picture;
    return this;
  }

  /**
   * Sets how a frame begins: reset, what has to be loaded, start. Pixels are looked at from the
   * cycle after; until then ready is low, where there is such a port.
   *
   * @param steps what to do with a DUT just opened
   * @return this bench
   */
  public FrameBench begin(Consumer<Dut> steps) {
    begin = steps;
    return this;
  }

  /**
   * Sets the pacing at which pixels are taken, where there is a ready port.
   *
   * @param consumer the pacing; {@link Pacing#varied} unless set
   * @return this bench
   */
  public FrameBench ready(Pacing consumer) {
    ready = consumer;
    return this;
  }

  /**
   * Sets the options with which the DUT is opened.
   *
   * @param chosen the options
   * @return this bench
   */
  public FrameBench options(DutOptions chosen) {
    options = chosen;
    return this;
  }

  /**
   * Sets the seed of the pacing and of the DUT's initial state.
   *
   * @param value any; 1 unless set
   * @return this bench
   */
  public FrameBench seed(long value) {
    seed = value;
    return this;
  }

  /**
   * Sets for how long no pixel may come before the frame counts as over.
   *
   * @param cycles 1 or more; a million unless set
   * @return this bench
   */
  public FrameBench timeout(long cycles) {
    if (cycles < 1) {
      throw new IllegalArgumentException(
          "A frame cannot wait for \"" + cycles + "\" cycles; 1 or more are allowed.");
    }
    timeout = cycles;
    return this;
  }

  /**
   * Sets the recorder that keeps the verdict.
   *
   * @param keeper the recorder; none unless set
   * @return this bench
   */
  public FrameBench recorder(Recorder keeper) {
    recorder = keeper;
    return this;
  }

  /**
   * Sets the command that repeats the run, which failures print.
   *
   * @param command the command
   * @return this bench
   */
  public FrameBench repeat(String command) {
    repeat = command;
    return this;
  }

  /**
   * Keeps pictures of a frame that passes, too.
   *
   * @return this bench
   */
  public FrameBench alwaysShown() {
    alwaysShown = true;
    return this;
  }

  /**
   * Runs a frame and records the verdict.
   *
   * @return what was found
   * @throws ContractException when something is not set
   * @throws RuntimeException what the DUT threw, when it ended by itself; that verdict is recorded
   *     as well
   */
  public Verdict run() {
    require(ports != null, "on which ports pixels come out", "pixels(PixelPorts.of(...))");
    require(reference != null, "what is expected", "exact(PICTURE), or bounded(FRAME)");
    require(begin != null, "how a frame begins", "begin(dut -> ...)");
    FrameRun run = new FrameRun(ports, reference, done);
    long started = System.nanoTime();
    DutException ended = null;
    long cycles;
    String text;
    try (Dut dut = model.open(options.withSeed(seed))) {
      try {
        ports.ready().ifPresent(port -> dut.set(port, 0));
        begin.accept(dut);
        run.run(dut, ready.open(RandomStream.derive(seed, "ready")), timeout);
      } catch (DutException e) {
        ended = e;
      }
      cycles = dut.cyclesRun();
      text = dut.text();
    }
    double seconds = (System.nanoTime() - started) / 1e9;
    Verdict verdict =
        new FrameVerdict(ports, reference, run, ideal)
            .of(
                name,
                Checked.of(run.arrived, cycles, seconds),
                new Origin(seed, model.contentHash(), repeat),
                text,
                ended == null ? "" : String.valueOf(ended.getMessage()));
    boolean shown = alwaysShown || !verdict.isPass();
    return recorder.keep(
        verdict.withPictures(shown ? FramePictures.of(reference, run) : List.of()), ended);
  }

  /**
   * Runs a frame, and fails unless all is well.
   *
   * @return the verdict, a pass
   * @throws org.opentest4j.AssertionFailedError with the facts
   * @throws RuntimeException as {@link #run}
   */
  public Verdict check() {
    return run().orFail();
  }

  private void require(boolean set, String what, String how) {
    if (!set) {
      throw new ContractException(
          "FrameBench on module "
              + model.design().top()
              + " does not know "
              + what
              + "; set ."
              + how
              + ".");
    }
  }
}
