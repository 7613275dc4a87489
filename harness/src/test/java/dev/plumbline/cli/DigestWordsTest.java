package dev.plumbline.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.stimulus.Fnv64;
import dev.plumbline.stimulus.RandomStream;
import java.math.BigInteger;
import java.nio.charset.StandardCharsets;
import java.util.SplittableRandom;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

/** Holds the two halves of the digest, random words and hash, to figures from outside. */
class DigestWordsTest {
  @Test
  @DisplayName("SplitMix64: the first words of seed 1234567 are the JDK's, figure by figure")
  void firstWordsOfAKnownSeed() {
    SplittableRandom jdk = new SplittableRandom(1234567); // specified as SplitMix64
    String[] known = {
      "6457827717110365317",
      "3203168211198807973",
      "9817491932198370423",
      "4593380528125082431",
      "16408922859458223821"
    };
    for (int n = 0; n < known.length; n++) {
      long word = RandomStream.mix(1234567 + (n + 1) * RandomStream.STEP);
      assertEquals(known[n], Long.toUnsignedString(word), "word " + n);
      assertEquals(jdk.nextLong(), word, "word " + n);
    }
  }

  @Test
  @DisplayName("SplitMix64: the same words as the JDK's SplittableRandom, for a thousand seeds")
  void sameWordsAsTheJdk() {
    for (long seed = -500; seed < 500; seed++) {
      SplittableRandom jdk = new SplittableRandom(seed * 0x123456789ABCDEFL);
      long state = seed * 0x123456789ABCDEFL;
      for (int n = 0; n < 10; n++) {
        state += RandomStream.STEP;
        assertEquals(jdk.nextLong(), RandomStream.mix(state));
      }
    }
  }

  /**
   * The definition of the hash, in whole numbers: for each byte, exclusive or and then a product
   * modulo 2^64 (FNV-1a), or the other way round (FNV-1). The basis is by definition what FNV-1
   * makes of its authors' line of 32 characters, from zero.
   */
  private static long defined(long basis, String text, boolean productFirst) {
    BigInteger prime = BigInteger.TWO.pow(40).add(BigInteger.valueOf(0x1B3));
    BigInteger modulus = BigInteger.TWO.pow(64);
    BigInteger hash = BigInteger.valueOf(basis).mod(modulus);
    for (byte octet : text.getBytes(StandardCharsets.US_ASCII)) {
      hash = productFirst ? hash.multiply(prime).mod(modulus) : hash;
      hash = hash.xor(BigInteger.valueOf(octet));
      hash = productFirst ? hash : hash.multiply(prime).mod(modulus);
    }
    return hash.longValue();
  }

  @Test
  @DisplayName("FNV-1a 64: \"\", \"a\" and \"foobar\" by the definition, in whole numbers")
  void hashOfKnownTexts() {
    assertEquals(0xCBF29CE484222325L, Fnv64.BASIS);
    assertEquals(Fnv64.BASIS, defined(0, "chongo <Landon Curt Noll> /\\../\\", true));
    for (String text : new String[] {"", "a", "foobar"}) {
      byte[] bytes = text.getBytes(StandardCharsets.US_ASCII);
      assertEquals(defined(Fnv64.BASIS, text, false), Fnv64.fold(Fnv64.BASIS, bytes), text);
    }
    assertEquals(0xAF63DC4C8601EC8CL, defined(Fnv64.BASIS, "a", false));
    assertEquals(0x85944171F73967E8L, defined(Fnv64.BASIS, "foobar", false));
  }
}
