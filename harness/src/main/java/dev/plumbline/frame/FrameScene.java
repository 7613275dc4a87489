package dev.plumbline.frame;

import dev.plumbline.models.light.ExactLight;
import dev.plumbline.models.light.Frame;
import dev.plumbline.models.light.Lighting;
import dev.plumbline.models.light.PixelRays;
import dev.plumbline.models.light.RayCounts;
import dev.plumbline.models.light.RayTracer;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.models.traversal.SceneUnits;
import dev.plumbline.verdict.Fact;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.FutureTask;

/** What a frame is a picture of, by the models. */
final class FrameScene {
  private static final String AXES = "xyz";

  private final Program program;
  private final Lighting lighting;
  private final int spans;
  private final int width;
  private final int height;
  private final FutureTask<Model> model; // evaluated once, by whoever wants it first

  /** What the model of light gives of the whole frame. */
  private record Model(Frame frame, long operations) {}

  FrameScene(Program program, Lighting lighting, int spans, int width, int height) {
    this.program = program;
    this.lighting = lighting;
    this.spans = spans;
    this.width = width;
    this.height = height;
    RayTracer tracer = RayTracer.of(program, SceneUnits.of(program.formats()), spans);
    ExactLight light = ExactLight.of(program, lighting, tracer);
    this.model = new FutureTask<>(() -> new Model(light.frame(width, height), tracer.operations()));
  }

  /** Has the frame evaluated by a thread of its own, while another draws it. */
  void beginsBeside() {
    Thread beside = new Thread(model, "plumbline-light");
    beside.setDaemon(true);
    beside.start();
  }

  private Model model() {
    model.run(); // does nothing where it is under way or done
    try {
      return model.get();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException(
          "The run was interrupted; nothing is known of its frame. Run it again.", e);
    } catch (ExecutionException e) {
      throw new IllegalStateException(
          "The model of the frame could not be evaluated; the cause says why. Report it as a"
              + " defect of Plumbline.",
          e.getCause());
    }
  }

  /** All that the frame follows from. */
  List<Object> data() {
    return List.of(program, lighting, spans, width, height);
  }

  int width() {
    return width;
  }

  int height() {
    return height;
  }

  Program program() {
    return program;
  }

  /** The whole picture, and the rays that it takes. */
  Frame frame() {
    return model().frame();
  }

  /** Operations of the program that all rays of the frame take. */
  long operations() {
    return model().operations();
  }

  PixelRays pixel(int x, int y) {
    return PixelRays.of(program, lighting, spans, x, y);
  }

  /** The rays of each pixel, by kind, in rows. */
  RayCounts[] counts() {
    ExactLight light = ExactLight.of(program, lighting, spans);
    RayCounts[] counts = new RayCounts[width * height];
    int[] colour = new int[1];
    for (int pixel = 0; pixel < counts.length; pixel++) {
      counts[pixel] = light.run(new int[] {pixel % width}, new int[] {pixel / width}, 1, colour);
    }
    return counts;
  }

  /** The rays of a pixel, a line or two each. */
  Fact rays(int x, int y) {
    PixelRays pixel = pixel(x, y);
    SceneFormats formats = program.formats();
    List<String> lines = new ArrayList<>();
    lines.add("of pixel " + x + ", " + y + ", in the model:");
    for (int ray = 0; ray < pixel.met().size(); ray++) {
      PixelRays.Met met = pixel.met().get(ray);
      Rays rays = pixel.rays();
      lines.add(
          met.kind()
              + " from "
              + vector(rays, "origin_", ray, formats.word().lsbs())
              + " along "
              + vector(rays, "direction_", ray, formats.direction().lsbs())
              + ": "
              + words(met));
    }
    return new Fact("rays", lines);
  }

  private String words(PixelRays.Met met) {
    boolean shadow =
        met.kind() == PixelRays.Kind.SHADOW || met.kind() == PixelRays.Kind.MIRROR_SHADOW;
    if (shadow) {
      return met.hit() ? "blocked" : "free";
    }
    if (!met.hit()) {
      return "nothing";
    }
    return String.format(
        Locale.ROOT,
        "%s at address %d, %.5f away",
        program.at(met.address()).kind().toString().replace('_', ' '),
        met.address(),
        met.distance() * program.formats().word().lsbs());
  }

  private static String vector(Rays rays, String lead, int ray, double lsb) {
    List<String> parts = new ArrayList<>();
    for (int axis = 0; axis < AXES.length(); axis++) {
      double value = rays.column(lead + AXES.charAt(axis))[ray] * lsb;
      parts.add(String.format(Locale.ROOT, "%.5f", value));
    }
    return String.join(", ", parts);
  }
}
