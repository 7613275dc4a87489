package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.Reference;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import java.util.List;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Latencies of pipelines of known depths, measured. */
class LatencySearchTest {
  private static final List<Operand> TURN = List.of(new Operand("turn", Format.signed(8, 4)));

  @ParameterizedTest
  @ValueSource(ints = {1, 2, 31, 32, 33, 64, 65, 255, 256, 257, 511, 600, 1000})
  void aLatencyIsMeasuredWhereverItIs(int depth) {
    AtomicLong computed = new AtomicLong();
    Reference dial =
        Reference.of(
            "dial",
            TURN,
            TURN,
            (in, out) -> {
              out[0] = in[0];
              computed.incrementAndGet(); // by the DUT, once a clock
            });
    MeasuredLatency measured = Pipeline.bench(dial, dial, depth).measureLatency(1000);
    assertEquals(depth, measured.least());
    assertEquals(depth, measured.most());
    assertEquals(1, measured.interval());
    if (depth <= 32) {
      assertTrue(computed.get() < 20_000, () -> computed + " cycles, single cases far apart");
    }
  }
}
