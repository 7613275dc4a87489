package dev.plumbline.stimulus;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.HashSet;
import java.util.Set;
import java.util.SplittableRandom;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

class RandomStreamTest {
  @Test
  @DisplayName("the stream is SplitMix64, as java.util.SplittableRandom draws it")
  void theStreamIsSplitMix64() {
    for (long seed : new long[] {0, 1, 42, -1, Long.MIN_VALUE, 0x123456789ABCDEFL}) {
      SplittableRandom theirs = new SplittableRandom(seed);
      RandomStream ours = RandomStream.of(seed);
      for (int i = 0; i < 1_000; i++) {
        assertEquals(theirs.nextLong(), ours.next());
      }
    }
  }

  @Test
  @DisplayName("first values of seed 1234567, as java.util.SplittableRandom(1234567) draws them")
  void theFirstValuesAreTheJdks() {
    RandomStream stream = RandomStream.of(1234567);

    assertEquals(6457827717110365317L, stream.next());
    assertEquals(3203168211198807973L, stream.next());
    assertEquals(Long.parseUnsignedLong("9817491932198370423"), stream.next());
    assertEquals(4593380528125082431L, stream.next());
    assertEquals(Long.parseUnsignedLong("16408922859458223821"), stream.next());
  }

  @Test
  @DisplayName("I2: decisions and bounded draws are as often as they should be, within 5 sigma")
  void drawsAreAsOftenAsTheyShouldBe() {
    RandomStream stream = RandomStream.of(7);
    int draws = 100_000;
    int hits = 0;
    int[] faces = new int[6];
    for (int i = 0; i < draws; i++) {
      hits += stream.chance(2 / Math.PI) ? 1 : 0;
      faces[stream.below(6)]++;
    }

    assertEquals(2 / Math.PI, hits / (double) draws, 0.007605); // row I2, N = 1e5
    double sigma = Math.sqrt(draws * (1 / 6.0) * (5 / 6.0));
    for (int face : faces) {
      assertEquals(draws / 6.0, face, 5 * sigma);
    }
  }

  @Test
  void derivedSeedsAreAllDifferent() {
    Set<Long> seeds = new HashSet<>();
    for (long seed = 0; seed < 100; seed++) {
      for (long number = -1; number < 100; number++) {
        assertTrue(seeds.add(RandomStream.derive(seed, number)));
      }
      assertTrue(seeds.add(RandomStream.derive(seed, "gear")));
      assertTrue(seeds.add(RandomStream.derive(seed, "gear ")));
    }
  }

  @Test
  void aUnitIsFromZeroInclusiveToOneExclusive() {
    RandomStream stream = RandomStream.of(3);
    for (int i = 0; i < 10_000; i++) {
      double unit = stream.unit();
      assertTrue(unit >= 0 && unit < 1);
    }
  }
}
