package dev.plumbline.frame;

import dev.plumbline.contract.ContractException;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.cosim.DutException;
import dev.plumbline.cosim.DutOptions;
import dev.plumbline.lockstep.Executor;
import dev.plumbline.models.light.BoundedFrame;
import dev.plumbline.models.light.Lighting;
import dev.plumbline.models.picture.Picture;
import dev.plumbline.models.program.Program;
import dev.plumbline.run.PassMemory;
import dev.plumbline.run.Plan;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.verdict.Checked;
import dev.plumbline.verdict.Fact;
import dev.plumbline.verdict.Origin;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Verdict;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.Supplier;

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
 * difference.png} (amplified, with a scale below) and {@code cycles.png} (cycles since the pixel
 * before, by logarithm), beside the first wrong pixels in {@code mismatch.csv}.
 */
public final class FrameBench {
  private static final long TIMEOUT = 1_000_000;

  private final CompiledDesign model;
  private String name;
  private PixelPorts ports;
  private Optional<String> done = Optional.empty();
  private FrameReference reference; // null where the scene's model gives it, or nothing is set
  private FrameScene scene; // or null
  private PixelTrace trace; // or null
  private Optional<PixelTrace.Place> pixel = Optional.empty();
  private int contexts = 1;
  private RaySignals raySignals; // or null
  private Picture ideal;
  private Consumer<Dut> begin;
  private Pacing ready = Pacing.varied();
  private DutOptions options = DutOptions.defaults();
  private long seed = 1;
  private long timeout = TIMEOUT;
  private FrameBudget budget; // null for none
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
   * Names the output that says that the frame is over. Where it is not high within {@link #timeout}
   * after the last pixel, that is a mismatch.
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
   * Holds every pixel to the colour that the model of light gives in the declared arithmetic. A
   * pixel that is wrong is reported with its rays and what each should meet, and the time that the
   * frame took with the rays that it took it for.
   *
   * @param program of the scene
   * @param lighting what the frame is taken with
   * @param spans most spans of a list
   * @param width pixels in a row
   * @param height rows
   * @return this bench
   * @throws IllegalArgumentException when formats differ, or the size is none
   */
  public FrameBench scene(Program program, Lighting lighting, int spans, int width, int height) {
    scene = new FrameScene(program, lighting, spans, width, height);
    reference = null;
    return this;
  }

  /**
   * Names the executor that traces the rays of {@link #scene}, by itself: property {@code
   * plumbline.pixel=X,Y} then runs the rays of that pixel through it, operation by operation, in
   * place of the frame, and a wrong pixel is reported with the command for it.
   *
   * @param alone the executor's model, made when it is wanted
   * @param promises what it promises
   * @return this bench
   */
  public FrameBench executor(Supplier<CompiledDesign> alone, Executor promises) {
    trace = new PixelTrace(alone, promises);
    return this;
  }

  /**
   * Runs the rays of one pixel through the executor in place of the frame, as property {@code
   * plumbline.pixel} does.
   *
   * @param x of the pixel
   * @param y of the pixel
   * @return this bench
   */
  public FrameBench onlyPixel(int x, int y) {
    pixel = Optional.of(new PixelTrace.Place(x, y));
    return this;
  }

  /**
   * Names signals inside the chip by which rays are timed, each kind by itself. The frame then runs
   * in the probe build, which is slower.
   *
   * @param inside of a chip that has one pixel in hand at a time, in rows
   * @return this bench
   */
  public FrameBench raySignals(RaySignals inside) {
    raySignals = inside;
    return this;
  }

  /**
   * Sets how many pixels the chip has in hand at a time, for the time of a ray.
   *
   * @param count 1 or more; 1 unless set
   * @return this bench
   */
  public FrameBench contexts(int count) {
    if (count < 1) {
      throw new IllegalArgumentException(
          "A chip cannot have \"" + count + "\" pixels in hand; 1 or more are allowed.");
    }
    contexts = count;
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
   * Has the page show what a frame, a pixel and a ray may take beside what they took.
   *
   * @param allowed cycles; whatever the frame took, it passes
   * @return this bench
   */
  public FrameBench budget(FrameBudget allowed) {
    budget = allowed;
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
   * Runs a frame and records the verdict. A frame that passed before on the same is not run again
   * where its recorder remembers that, unless its pictures are wanted whatever the verdict.
   *
   * @return what was found
   * @throws ContractException when something is not set
   * @throws RuntimeException what the DUT threw, when it ended by itself; that verdict is recorded
   *     as well
   */
  public Verdict run() {
    require(ports != null, "on which ports pixels come out", "pixels(PixelPorts.of(...))");
    boolean expects = reference != null || scene != null;
    require(expects, "what is expected", "exact(PICTURE), or bounded(FRAME)");
    require(begin != null, "how a frame begins", "begin(dut -> ...)");
    Optional<PixelTrace.Place> wanted = pixel.or(PixelTrace::wanted);
    if (wanted.isPresent()) {
      require(scene != null, "the scene", "scene(PROGRAM, LIGHTING, ...)");
      require(trace != null, "the executor", "executor(() -> MODEL, PROMISES)");
      return trace.run(scene, wanted.get(), name, seed, recorder, repeat);
    }
    if (alwaysShown) {
      return runs();
    }
    Plan plan = new Plan(name, (long) width() * height(), 1, 0, 0, origin(), Optional.empty());
    Object[] drawn = {model, ports, done, contexts, begin, ready, options, timeout};
    Object[] held = {reference, ideal, raySignals, scene == null ? List.of() : scene.data()};
    return PassMemory.of(recorder, plan, drawn, held).run(recorder, this::runs);
  }

  private Origin origin() {
    return new Origin(seed, model.contentHash(), repeat);
  }

  private int width() {
    return reference == null ? scene.width() : reference.least().width();
  }

  private int height() {
    return reference == null ? scene.height() : reference.least().height();
  }

  private Verdict runs() {
    if (scene != null) {
      scene.beginsBeside();
    }
    Optional<RayTimes> times = times();
    FrameRun run = new FrameRun(ports, width(), height(), done, contexts, times);
    long started = System.nanoTime();
    DutException ended = null;
    long cycles;
    String text;
    CompiledDesign opened = times.isPresent() ? model.withInternals() : model;
    try (Dut dut = opened.open(options.withSeed(seed))) {
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
    FrameReference held =
        reference == null ? FrameReference.of(scene.frame().picture()) : reference;
    run.judge(held);
    Verdict verdict =
        new FrameVerdict(ports, held, run, ideal, told(run, times))
            .of(
                name,
                Checked.of(run.arrived, cycles, (System.nanoTime() - started) / 1e9)
                    .withBudgets(FrameTimes.budgets(budget, Optional.ofNullable(scene), run)),
                origin(),
                text,
                ended == null ? "" : String.valueOf(ended.getMessage()));
    boolean shown = alwaysShown || !verdict.isPass();
    return recorder.keep(
        verdict.withPictures(shown ? FramePictures.of(held, run) : List.of()), ended);
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

  /** What is known of a frame of a scene: the rays of its first wrong pixel, and its time. */
  private List<Fact> told(FrameRun run, Optional<RayTimes> times) {
    if (scene == null) {
      return List.of();
    }
    List<Fact> facts = new ArrayList<>();
    run.strikes.stream()
        .filter(strike -> strike.fault() == FrameRun.Fault.WRONG)
        .findFirst()
        .ifPresent(
            wrong -> {
              facts.add(scene.rays(wrong.x(), wrong.y()));
              if (trace != null && !repeat.isEmpty()) {
                facts.add(PixelTrace.command(repeat, wrong.x(), wrong.y()));
              }
            });
    if (run.missing() == 0) {
      facts.add(FrameTimes.of(scene, run, contexts, times));
    }
    return facts;
  }

  private Optional<RayTimes> times() {
    if (raySignals == null) {
      return Optional.empty();
    }
    require(scene != null, "the scene", "scene(PROGRAM, LIGHTING, ...)");
    return Optional.of(RayTimes.of(raySignals, scene, contexts, model.design().top()));
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
