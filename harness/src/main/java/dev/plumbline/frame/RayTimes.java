package dev.plumbline.frame;

import dev.plumbline.contract.ContractException;
import dev.plumbline.cosim.Batch;
import dev.plumbline.models.light.PixelRays;
import dev.plumbline.models.light.RayCounts;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.LongStream;

/**
 * The cycles of each ray, from when it is taken to when its result is, by kind. Which kind a ray is
 * of follows from the model: pixels come in rows, their rays in order.
 */
final class RayTimes {
  private static final PixelRays.Kind[] KINDS = PixelRays.Kind.values();

  private final RaySignals signals;
  private final List<Integer> kinds = new ArrayList<>(); // of each ray of the model
  private final long[] sums = new long[KINDS.length];
  private final long[] counts = new long[KINDS.length];
  private int taken;
  private long start;
  private long[] rayValid;
  private long[] rayReady;
  private long[] resultValid;
  private long[] resultReady;

  /** Of a chip that has one pixel in hand at a time. */
  static RayTimes of(RaySignals inside, FrameScene scene, int contexts, String module) {
    if (contexts != 1) {
      throw new ContractException(
          "FrameBench on module "
              + module
              + " cannot time rays by kind with \""
              + contexts
              + "\" pixels in hand; build the chip with one, or leave .raySignals(...) out.");
    }
    return new RayTimes(inside, scene.counts());
  }

  RayTimes(RaySignals signals, RayCounts[] pixels) {
    this.signals = signals;
    for (RayCounts pixel : pixels) {
      long[] own = {pixel.primary(), pixel.shadow(), pixel.mirror(), pixel.mirrorShadow()};
      for (int kind = 0; kind < KINDS.length; kind++) {
        if (own[kind] > 0) {
          kinds.add(kind);
        }
      }
    }
  }

  void open(Batch batch) {
    rayValid = batch.column(signals.rayValid());
    rayReady = batch.column(signals.rayReady());
    resultValid = batch.column(signals.resultValid());
    resultReady = batch.column(signals.resultReady());
  }

  void row(int row, long cycle) {
    row(
        cycle,
        rayValid[row] == 1 && rayReady[row] == 1,
        resultValid[row] == 1 && resultReady[row] == 1);
  }

  void row(long cycle, boolean ray, boolean result) {
    if (result) {
      if (taken < kinds.size()) {
        sums[kinds.get(taken)] += cycle - start;
        counts[kinds.get(taken)]++;
      }
      taken++;
    }
    start = ray ? cycle : start;
  }

  /**
   * A line for people.
   *
   * @param cycles of the frame
   * @param pixels of it
   */
  String words(long cycles, int pixels) {
    if (taken != kinds.size()) {
      return taken
          + " rays were traced, not the "
          + kinds.size()
          + " of the model: no times by kind";
    }
    List<String> parts = new ArrayList<>();
    for (int kind = 0; kind < KINDS.length; kind++) {
      long count = counts[kind];
      if (count > 0) {
        parts.add(String.format(Locale.ROOT, "%s %.1f", KINDS[kind], (double) sums[kind] / count));
      }
    }
    long beside = cycles - LongStream.of(sums).sum();
    return String.format(
        Locale.ROOT,
        "from a ray to its result, in the mean: %s; beside its rays a pixel takes %.1f",
        String.join(", ", parts),
        (double) beside / pixels);
  }
}
