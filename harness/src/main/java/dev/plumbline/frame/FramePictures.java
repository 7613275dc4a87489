package dev.plumbline.frame;

import dev.plumbline.models.light.BoundedFrame;
import dev.plumbline.models.picture.Picture;
import dev.plumbline.verdict.ShownPicture;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** What there is to see of a frame: expected, actual, how far they are apart, cycles by pixel. */
final class FramePictures {
  private static final int PEAK = 255;
  private static final int STEPS = 4; // of a scale
  private static final int MISSING = 0xFF00FF;
  private static final int OPEN = 0x00FF00;

  private FramePictures() {}

  static List<ShownPicture> of(FrameReference reference, FrameRun run) {
    List<ShownPicture> pictures = new ArrayList<>();
    pictures.add(new ShownPicture("expected", "expected", middle(reference)));
    pictures.add(new ShownPicture("actual", actualCaption(run), actual(run)));
    pictures.add(difference(reference, run));
    pictures.add(cycles(run));
    reference.bounds().ifPresent(bounds -> pictures.add(open(bounds, run)));
    return pictures;
  }

  /** What came, and where the precision leaves open what should. */
  private static ShownPicture open(BoundedFrame bounds, FrameRun run) {
    return new ShownPicture(
        "open",
        bounds.openPixels() + " pixels, green, that the precision leaves open",
        bounds.marked(actual(run), OPEN));
  }

  /** The one picture, or what lies between the bounds. */
  private static Picture middle(FrameReference reference) {
    if (reference.isExact()) {
      return reference.least();
    }
    Picture least = reference.least();
    Picture picture = Picture.of(least.width(), least.height());
    for (int y = 0; y < least.height(); y++) {
      for (int x = 0; x < least.width(); x++) {
        int colour = 0;
        for (int shift = 16; shift >= 0; shift -= 8) {
          int low = least.at(x, y) >> shift & PEAK;
          int high = reference.greatest().at(x, y) >> shift & PEAK;
          colour |= ((low + high) / 2) << shift;
        }
        picture.set(x, y, colour);
      }
    }
    return picture;
  }

  private static String actualCaption(FrameRun run) {
    return run.missing() == 0 ? "actual" : "actual; magenta never came";
  }

  static Picture actual(FrameRun run) {
    Picture picture = Picture.of(run.actual.width(), run.actual.height());
    for (int pixel = 0; pixel < run.came.length; pixel++) {
      int x = pixel % picture.width();
      int y = pixel / picture.width();
      picture.set(x, y, run.came[pixel] ? run.actual.at(x, y) : MISSING);
    }
    return picture;
  }

  /** How far each channel lies outside what is allowed, times as much as makes the most white. */
  private static ShownPicture difference(FrameReference reference, FrameRun run) {
    int most = 1;
    for (int pixel = 0; pixel < run.came.length; pixel++) {
      int x = pixel % run.actual.width();
      int y = pixel / run.actual.width();
      most = run.came[pixel] ? Math.max(most, reference.off(x, y, run.actual.at(x, y))) : most;
    }
    int times = PEAK / most;
    Picture picture = Picture.of(run.actual.width(), run.actual.height());
    for (int pixel = 0; pixel < run.came.length; pixel++) {
      int x = pixel % picture.width();
      int y = pixel / picture.width();
      int colour = run.came[pixel] ? 0 : MISSING;
      for (int shift = 16; shift >= 0 && run.came[pixel]; shift -= 8) {
        colour |= (reference.off(x, y, run.actual.at(x, y), shift) * times) << shift;
      }
      picture.set(x, y, colour);
    }
    String scale = times == 1 ? "as it is" : "times " + times;
    int steps = Math.min(STEPS, most);
    int[] greys = new int[steps + 1];
    long[] codes = new long[steps + 1];
    for (int k = 0; k <= steps; k++) {
      codes[k] = (long) most * k / steps;
      greys[k] = (int) codes[k] * times;
    }
    return new ShownPicture(
        "difference",
        "difference, " + scale + ", with a scale of 255ths",
        ScaleBar.under(picture, greys, codes));
  }

  /** Cycles of each pixel, by logarithm: black the fewest, white the most. */
  private static ShownPicture cycles(FrameRun run) {
    long[] waits = run.sortedWaits();
    long least = waits.length == 0 ? 0 : Math.max(1, waits[0]);
    long most = waits.length == 0 ? 1 : Math.max(least + 1, waits[waits.length - 1]);
    Picture picture = Picture.of(run.actual.width(), run.actual.height());
    double scale = PEAK / Math.log((double) most / Math.max(1, least));
    for (int pixel = 0; pixel < run.came.length; pixel++) {
      double above = Math.log((double) Math.max(least, run.waited[pixel]) / Math.max(1, least));
      int grey = (int) Math.round(scale * above);
      int colour = run.came[pixel] ? grey * 0x10101 : MISSING;
      picture.set(pixel % picture.width(), pixel / picture.width(), colour);
    }
    String range =
        String.format(
            Locale.ROOT, "cycles since %s, %d black to %d white", run.since(), least, most);
    int[] greys = new int[STEPS + 1];
    long[] cycles = new long[STEPS + 1];
    for (int k = 0; k <= STEPS; k++) {
      cycles[k] =
          Math.round(least * Math.pow((double) most / Math.max(1, least), k / (double) STEPS));
      greys[k] = PEAK * k / STEPS;
    }
    return new ShownPicture(
        "cycles", range + ", by logarithm", ScaleBar.under(picture, greys, cycles));
  }
}
