package dev.plumbline.samples;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.stimulus.RandomStream;
import java.util.ArrayList;
import java.util.List;

/**
 * Benches in formats that the chip is not made in, but that the headers of its RTL allow: the ends
 * of each range, some in between, and others by chance. Each bench's name has its formats, so one
 * that fails is repeated by its name and the seed.
 */
public final class OtherFormats {
  private static final Format WORD = Format.signed(16, 16);
  private static final Format DIRECTION = Format.signed(2, 16);

  private OtherFormats() {}

  /**
   * Those that are the same every time.
   *
   * @return the ends of each parameter's range, and some that are neither an end nor the default
   */
  public static List<SampleBench> fixed() {
    List<SampleBench> benches = new ArrayList<>();
    for (Format word : List.of(bits(8, 0), bits(8, 7), bits(32, 0), bits(32, 31), bits(32, 20))) {
      benches.add(SampleBenches.reciprocal(word));
    }
    for (Format word : List.of(bits(4, 0), bits(4, 3), bits(64, 0), bits(64, 63), bits(32, 15))) {
      benches.add(SampleBenches.squareRoot(word, Rounding.FLOOR));
    }
    benches.add(SampleBenches.squareRoot(bits(4, 3), Rounding.HALF_CEILING));
    benches.add(SampleBenches.squareRoot(bits(64, 63), Rounding.HALF_CEILING));
    benches.add(SampleBenches.box(bits(8, 0), bits(8, 0), 0));
    benches.add(SampleBenches.box(bits(8, 7), bits(8, 7), 255));
    benches.add(SampleBenches.box(bits(32, 31), bits(32, 31), 255));
    benches.add(SampleBenches.box(bits(16, 8), bits(32, 16), 2));
    benches.add(SampleBenches.box(WORD, bits(18, 16), 2));
    benches.add(SampleBenches.plane(bits(8, 0), bits(8, 4), bits(8, 0)));
    benches.add(SampleBenches.plane(bits(32, 31), bits(32, 31), bits(32, 31)));
    benches.add(SampleBenches.plane(WORD, DIRECTION, bits(32, 20)));
    return benches;
  }

  /**
   * Others by chance, without those that are there already.
   *
   * @param seed what they follow from
   * @param count how many of each block
   * @return as many, or fewer where chance gives one twice
   */
  public static List<SampleBench> drawn(long seed, int count) {
    RandomStream chance = RandomStream.of(RandomStream.derive(seed, "formats"));
    List<SampleBench> benches = new ArrayList<>();
    List<String> names = new ArrayList<>();
    fixed().forEach(bench -> names.add(bench.name()));
    SampleBenches.all().forEach(bench -> names.add(bench.name()));
    for (int i = 0; i < count; i++) {
      for (SampleBench bench :
          List.of(
              SampleBenches.reciprocal(word(chance, 8, 32)),
              SampleBenches.squareRoot(
                  word(chance, 4, 64), chance.chance(0.5) ? Rounding.FLOOR : Rounding.HALF_CEILING),
              SampleBenches.box(
                  word(chance, 8, 32), word(chance, 8, 32), chance.below(1 << chance.below(9))),
              plane(chance))) {
        if (!names.contains(bench.name())) {
          names.add(bench.name());
          benches.add(bench);
        }
      }
    }
    return benches;
  }

  private static SampleBench plane(RandomStream chance) {
    Format word = word(chance, 8, 32);
    int width = 8 + chance.below(25);
    int fraction = 4 + chance.below(width - 4);
    int slopeWidth = 8 + chance.below(25);
    int slopeFraction = chance.below(Math.min(slopeWidth - 1, 2 * fraction) + 1);
    return SampleBenches.plane(word, bits(width, fraction), bits(slopeWidth, slopeFraction));
  }

  private static Format word(RandomStream chance, int least, int most) {
    int width = least + chance.below(most - least + 1);
    return bits(width, chance.below(width));
  }

  /** A signed format of so many bits, as the headers count them. */
  private static Format bits(int width, int fraction) {
    return Format.signed(width - fraction, fraction);
  }
}
