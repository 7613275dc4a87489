package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Cases that wait until they are taken, against the same hand-over written in Java. */
@Execution(ExecutionMode.CONCURRENT)
class HandshakeTest {
  private static final CompiledDesign MODEL = Driven.model("weigh_house");
  private static final int ROWS = 64;

  /** The weigh-house and the queue before it, as their descriptions have them. */
  private static final class Street {
    private int busy;
    private BigInteger total = BigInteger.ZERO;
    private long taken;
    private boolean standing;

    /** One cycle; whether the case on offer is taken. */
    private boolean cycle(boolean offer, boolean caseLeft, boolean shut, BigInteger weight) {
      standing = caseLeft && (standing || offer);
      boolean open = busy == 0 && !shut;
      if (standing && open) {
        total = Driven.wrapped(total.add(weight), 80, true);
        taken++;
        busy = weight.intValue() & 3;
        standing = false;
        return true;
      }
      busy = Math.max(0, busy - 1);
      return false;
    }
  }

  @ParameterizedTest(name = "offered {0} %, shut {1} %")
  @CsvSource({"100, 0", "100, 50", "50, 0", "50, 50", "5, 90", "100, 99", "3, 0"})
  void casesAreTakenInOrderUnderAnyPressure(int offered, int shut) {
    SplittableRandom random = new SplittableRandom(offered * 1000 + shut);
    try (Dut dut = MODEL.open()) {
      dut.set("rst", 1);
      dut.cycle();
      dut.set("rst", 0);
      Batch batch = dut.batch(ROWS);
      batch.handshake("in_valid", "in_ready", "shut");
      List<BigInteger> queue = new ArrayList<>();
      Street street = new Street();
      for (int run = 0; run < 60; run++) {
        // Few cases now and then, so that runs also end with none left.
        int cases = random.nextInt(ROWS + 1);
        while (queue.size() < cases) {
          queue.add(Driven.draw(random, 72, true));
        }
        int rows = random.nextInt(ROWS + 1);
        check(dut, batch, street, queue, random, new int[] {rows, cases, offered, shut});
      }
    }
  }

  private static void check(
      Dut dut,
      Batch batch,
      Street street,
      List<BigInteger> queue,
      SplittableRandom random,
      int[] sizes) {
    int rows = sizes[0];
    int cases = sizes[1];
    for (int i = 0; i < cases; i++) {
      long[] words = Driven.words(queue.get(i), 2);
      batch.column("in_weight", 0)[i] = words[0];
      batch.column("in_weight", 1)[i] = words[1];
    }
    for (int row = 0; row < rows; row++) {
      batch.column("in_valid")[row] = random.nextInt(100) < sizes[2] ? 1 : 0;
      batch.column("shut")[row] = random.nextInt(100) < sizes[3] ? 1 : 0;
    }
    // Asked for before the run, since a run copies what was asked for.
    long[] total = batch.column("total", 0);
    long[] high = batch.column("total", 1);
    long[] taken = batch.column("taken");
    assertEquals(rows, dut.run(batch, rows, cases));

    int accepted = 0;
    for (int row = 0; row < rows; row++) {
      assertEquals(street.taken, taken[row], "row " + row);
      assertEquals(street.total, Driven.value(true, total[row], high[row]), "row " + row);
      boolean offer = batch.column("in_valid")[row] == 1;
      boolean caseLeft = accepted < cases;
      boolean shut = batch.column("shut")[row] == 1;
      int onOffer = caseLeft && (street.standing || offer) ? accepted : -1;
      assertEquals(onOffer, batch.caseAtRow()[row], "row " + row);
      if (street.cycle(offer, caseLeft, shut, caseLeft ? queue.get(accepted) : BigInteger.ZERO)) {
        accepted++;
      }
    }
    assertEquals(accepted, batch.accepted());
    queue.subList(0, accepted).clear();
  }

  @Test
  void anOfferThatWasLeftStandingIsMadeAgainAtOnce() {
    try (Dut dut = MODEL.open()) {
      Batch batch = dut.batch(3);
      batch.handshake("in_valid", "in_ready", "shut");
      batch.column("in_valid")[0] = 1;
      batch.column("in_weight")[0] = 44;
      java.util.Arrays.fill(batch.column("shut"), 1);
      dut.run(batch, 3, 1);
      assertEquals(0, batch.accepted());
      assertArrayEquals(new int[] {0, 0, 0}, batch.caseAtRow());

      java.util.Arrays.fill(batch.column("shut"), 0);
      batch.column("in_valid")[0] = 0;
      dut.run(batch, 3, 1);
      assertEquals(1, batch.accepted());
      assertArrayEquals(new int[] {0, -1, -1}, batch.caseAtRow());
      assertEquals(44, dut.getWords("total")[0]);
    }
  }

  /** The third case is no longer where it was when it was handed over, and nobody looks again. */
  @Test
  void aRunResumesAtALaterCaseOfColumnsThatHaveNotChanged() {
    try (Dut dut = MODEL.open()) {
      Batch batch = dut.batch(6);
      batch.handshake("in_valid", "in_ready");
      java.util.Arrays.fill(batch.column("in_valid"), 1);
      long[] weights = {4, 8, 16, 32, 64, 0};
      System.arraycopy(weights, 0, batch.column("in_weight"), 0, 6);
      dut.run(batch, 2, 5);
      assertEquals(2, batch.accepted());

      batch.column("in_weight")[2] = 1000;
      batch.column("in_weight")[3] = 128;
      batch.resume(2, 3);
      dut.run(batch, 2, 4);
      assertEquals(2, batch.accepted());
      assertArrayEquals(
          new int[] {2, 3}, java.util.Arrays.copyOf(batch.caseAtRow(), 2), "places in the columns");
      assertEquals(2, dut.run(batch, 2, 0), "that run alone: this one has no case");
      assertEquals(4 + 8 + 16 + 128, dut.getWords("total")[0]);

      batch.resume(2, 0);
      assertThrows(IllegalArgumentException.class, () -> dut.run(batch, 1, 1), "cases end before");
      assertThrows(IllegalArgumentException.class, () -> batch.resume(-1, 0));
    }
  }

  @Test
  void withNoCaseNothingIsOffered() {
    try (Dut dut = MODEL.open()) {
      Batch batch = dut.batch(8);
      batch.handshake("in_valid", "in_ready");
      java.util.Arrays.fill(batch.column("in_valid"), 1);
      dut.run(batch, 8, 0);
      assertEquals(0, batch.accepted());
      assertEquals(0, dut.get("taken"));
      assertTrue(java.util.Arrays.stream(batch.caseAtRow()).allMatch(c -> c == -1));
    }
  }
}
