package dev.plumbline.frame;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.lockstep.Executor;
import dev.plumbline.lockstep.LockstepBench;
import dev.plumbline.models.light.PixelRays;
import dev.plumbline.verdict.Fact;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Verdict;
import java.util.Optional;
import java.util.function.Supplier;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Runs the rays of one pixel through the executor by itself, operation by operation. */
record PixelTrace(Supplier<CompiledDesign> model, Executor promises) {
  private static final String PROPERTY = "plumbline.pixel";
  private static final Pattern PLACE = Pattern.compile("\\s*(\\d{1,4})\\s*,\\s*(\\d{1,4})\\s*");

  /** A pixel. */
  record Place(int x, int y) {}

  /** The pixel that is asked for. */
  static Optional<Place> wanted() {
    String text = System.getProperty("plumbline.pixel", "");
    return text.isBlank() ? Optional.empty() : Optional.of(place(text));
  }

  static Place place(String text) {
    Matcher numbers = PLACE.matcher(text);
    if (!numbers.matches()) {
      throw new IllegalArgumentException(
          "Property "
              + PROPERTY
              + " cannot be \""
              + text
              + "\"; two numbers from 0 with a comma between them are allowed, such as 17,9.");
    }
    return new Place(Integer.parseInt(numbers.group(1)), Integer.parseInt(numbers.group(2)));
  }

  /** How to run the rays of a pixel. */
  static Fact command(String repeat, int x, int y) {
    return Fact.of(
        "its rays", "operation by operation: " + repeat + " -D" + PROPERTY + "=" + x + "," + y);
  }

  Verdict run(
      FrameScene scene, Place at, String name, long seed, Recorder recorder, String repeat) {
    int width = scene.width();
    int height = scene.height();
    if (at.x() >= width || at.y() >= height) {
      throw new IllegalArgumentException(
          "Property "
              + PROPERTY
              + " cannot be \""
              + at.x()
              + ","
              + at.y()
              + "\" for "
              + name
              + ": its frame is "
              + width
              + " by "
              + height
              + "; name a pixel within.");
    }
    PixelRays pixel = scene.pixel(at.x(), at.y());
    scene.rays(at.x(), at.y()).lines().forEach(System.out::println);
    Verdict verdict =
        LockstepBench.of(model.get())
            .executor(promises)
            .given(scene.program(), pixel.rays())
            .named(name + " pixel " + at.x() + " " + at.y())
            .seed(seed)
            .recorder(recorder)
            .repeat(repeat.isEmpty() ? "" : repeat + " -D" + PROPERTY + "=" + at.x() + "," + at.y())
            .run();
    if (verdict.isPass()) {
      System.out.println(
          "The executor traces all "
              + pixel.met().size()
              + " rays of the pixel as it should: the fault lies before or behind it, or in how"
              + " it is joined to the rest.");
    }
    return verdict;
  }
}
