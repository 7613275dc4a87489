package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.check.GearTrain.Fault;
import dev.plumbline.contract.Contract;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Verdict;
import java.math.BigInteger;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** A promise of what an output is where its flag is 0, at a fixed latency and in a stream. */
class OtherwiseTest {
  private static Verdict run(Fault fault, int mostLatency, Long otherwise) {
    Contract.Builder contract = GearTrain.contract().latencyBetween(3, mostLatency);
    if (otherwise == null) {
      contract.validWhen("angle", "forward");
    } else {
      contract.validWhen("angle", "forward", otherwise);
    }
    return GearTrain.bench(fault).contract(contract.build()).run();
  }

  @ParameterizedTest
  @ValueSource(ints = {3, 5})
  void aPromiseThatIsKeptPassesAndIsNotCountedAsCompared(int mostLatency) {
    Verdict verdict = run(Fault.ZERO_UNLESS_FORWARD, mostLatency, 0L);

    assertTrue(verdict.isPass(), verdict::facts);
    assertTrue(verdict.bounds().get(0).compared() < verdict.bounds().get(1).compared());
  }

  @ParameterizedTest
  @ValueSource(ints = {3, 5})
  void anythingElseIsAMismatchWithThePromiseAsWhatWasAllowed(int mostLatency) {
    assertTrue(run(Fault.ONE_UNLESS_FORWARD_WHERE_TEETH_ARE_99, mostLatency, null).isPass());

    Verdict verdict = run(Fault.ONE_UNLESS_FORWARD_WHERE_TEETH_ARE_99, mostLatency, 0L);

    Mismatch first = verdict.first().orElseThrow();
    assertEquals(Mismatch.Kind.VALUE_WRONG, first.kind());
    assertEquals("out_angle", first.signal());
    assertEquals(BigInteger.ONE, first.actual());
    assertEquals(BigInteger.ZERO, first.low());
    assertEquals(BigInteger.ZERO, first.high());
  }

  @ParameterizedTest
  @ValueSource(ints = {3, 5})
  void whereTheFlagIsSetTheReferenceStillCounts(int mostLatency) {
    Verdict verdict = run(Fault.ONE_TOO_MUCH_WHERE_TEETH_ARE_99, mostLatency, null);
    assertTrue(verdict.first().isPresent(), verdict::facts);

    assertTrue(run(Fault.NONE, mostLatency, 0L).first().isPresent(), "angles below 0");
  }

  @ParameterizedTest
  @ValueSource(ints = {3, 5})
  void anotherCodeThanZeroMayBePromised(int mostLatency) {
    Mismatch first = run(Fault.ZERO_UNLESS_FORWARD, mostLatency, 5L).first().orElseThrow();

    assertEquals(BigInteger.valueOf(5), first.low());
  }
}
