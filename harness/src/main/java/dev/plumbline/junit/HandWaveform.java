package dev.plumbline.junit;

import dev.plumbline.cosim.Watch;
import dev.plumbline.rtl.Signal;
import dev.plumbline.verdict.Wave;
import dev.plumbline.verdict.Waveform;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Predicate;
import java.util.stream.LongStream;

/** The waveform of a DUT that a test drove by hand. */
final class HandWaveform {
  private HandWaveform() {}

  static Waveform of(Watch watch, String about, Predicate<String> wanted) {
    List<Wave> waves = new ArrayList<>();
    for (int g = 0; g < watch.signals().size(); g++) {
      Signal signal = watch.signals().get(g);
      String path = watch.names().get(g);
      if (!wanted.test(path)) {
        continue;
      }
      long[][] words = new long[signal.words()][];
      for (int w = 0; w < words.length; w++) {
        words[w] = watch.column(g, w);
      }
      List<BigInteger> values = new ArrayList<>();
      for (int row = 0; row < watch.rows(); row++) {
        BigInteger bits = BigInteger.ZERO;
        for (int w = words.length - 1; w >= 0; w--) {
          bits = bits.shiftLeft(64).or(new BigInteger(Long.toUnsignedString(words[w][row])));
        }
        values.add(bits.mod(BigInteger.ONE.shiftLeft(signal.width())));
      }
      String name = path.substring(signal.scope().length() + 1);
      waves.add(new Wave(signal.scope(), name, signal.width(), values));
    }
    List<Long> cycles =
        LongStream.range(watch.firstCycle(), watch.firstCycle() + watch.rows()).boxed().toList();
    return new Waveform(List.of(about), cycles, waves);
  }
}
