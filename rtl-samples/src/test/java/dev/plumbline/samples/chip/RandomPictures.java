package dev.plumbline.samples.chip;

import dev.plumbline.models.light.Material;
import dev.plumbline.samples.chip.SequencerDriver.Settings;
import dev.plumbline.stimulus.RandomStream;
import java.util.ArrayList;
import java.util.List;

/** Scenes, materials and views by chance, in any formats of words and directions. */
final class RandomPictures {
  private final Formats formats;
  private final boolean normalised;
  private final int materials;
  private final RandomStream chance;

  RandomPictures(Formats formats, boolean normalised, int materials, RandomStream chance) {
    this.formats = formats;
    this.normalised = normalised;
    this.materials = materials;
    this.chance = chance;
  }

  private double either() {
    return 2 * chance.unit() - 1;
  }

  private double[] direction() {
    double[] vector = {either(), either(), either()};
    if (chance.chance(0.15)) {
      vector[chance.below(3)] = 0;
    }
    double length = Math.sqrt(StandInScene.dot(vector, vector));
    return length < 0.05
        ? new double[] {0, 0, 1}
        : new double[] {vector[0] / length, vector[1] / length, vector[2] / length};
  }

  /** Half of them mirrors, some of them fully. */
  List<Material> materials() {
    List<Material> all = new ArrayList<>();
    for (int i = 0; i < materials; i++) {
      int tint = chance.chance(0.4) ? 0 : chance.chance(0.2) ? 255 : chance.below(256);
      all.add(new Material(chance.below(0x1000000), tint));
    }
    return all;
  }

  /** Solids within four words of the middle. */
  StandInScene scene() {
    StandInScene scene = new StandInScene(formats);
    for (int i = 1 + chance.below(5); i > 0; i--) {
      double[] at = {3 * either(), 3 * either(), 3 * either()};
      switch (chance.below(3)) {
        case 0 ->
            scene.sphere(chance.below(materials), at[0], at[1], at[2], 0.1 + 2 * chance.unit());
        case 1 -> {
          double[] normal = direction();
          scene.halfSpace(chance.below(materials), normal[0], normal[1], normal[2], 3 * either());
        }
        default ->
            scene.box(
                chance.below(materials),
                at[0],
                at[1],
                at[2],
                at[0] + 0.1 + chance.unit(),
                at[1] + 0.1 + chance.unit(),
                at[2] + 0.1 + chance.unit());
      }
    }
    return scene;
  }

  /** An eye some words off, views of 1/4 to 4, towards the middle or not, through that pixel. */
  Settings settings(int centreX, int centreY) {
    double[] towards = direction();
    double away = 4 * chance.unit();
    double size = normalised ? Math.exp((4 * chance.unit() - 2) * Math.log(2)) : 1;
    long[] eye = new long[3];
    long[] corner = new long[3];
    long[] stepX = new long[3];
    long[] stepY = new long[3];
    double[] side = direction();
    double[] other = direction();
    double step = size * chance.unit() / (2 * (centreX + centreY) + 1);
    double[] lamp = direction();
    long[] lampCodes = new long[3];
    long[] lampInverse = new long[3];
    int lampParallel = 0;
    for (int k = 0; k < 3; k++) {
      eye[k] = formats.wordCode(-away * towards[k] + either());
      stepX[k] = formats.wordCode(step * side[k]);
      stepY[k] = formats.wordCode(step * other[k]);
      corner[k] = formats.wordCode(size * towards[k]) - centreX * stepX[k] - centreY * stepY[k];
      lampCodes[k] = formats.unitCode(lamp[k]);
      // Step 2: as a word, then its reciprocal towards zero.
      int up = formats.wordFraction() - formats.unitFraction();
      long asWord =
          up >= 0 ? lampCodes[k] << up : Math.floorDiv(lampCodes[k] + (1L << -up - 1), 1L << -up);
      long one = 1L << 2 * formats.wordFraction();
      long inverse = asWord == 0 ? Long.MAX_VALUE : one / asWord;
      boolean fits = inverse == Formats.saturated(inverse, formats.wordBits());
      lampParallel |= fits ? 0 : 1 << k;
      lampInverse[k] = fits ? inverse : 0;
    }
    return new Settings(
        eye,
        corner,
        stepX,
        stepY,
        lampCodes,
        lampInverse,
        lampParallel,
        formats.wordCode(chance.unit() / 32),
        chance.below(257),
        chance.below(0x1000000));
  }
}
