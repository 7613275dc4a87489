package dev.plumbline.lockstep;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.drive.Engine;
import dev.plumbline.drive.Segment;
import dev.plumbline.models.traversal.Alteration;
import dev.plumbline.models.traversal.RayRules;
import dev.plumbline.stimulus.Pacing;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * The model that goes cycle by cycle retires, offers and takes rays in the cycles in which the one
 * does that knows beforehand which way is right; both are written from the words of the pace.
 */
class CycleModelTest {
  private static final int RAYS = 120;
  private static final int FEW = 12;

  /** Beyond an end there is no program in Java, and the ports have no room for another span. */
  private static final Set<Alteration> UNFIT =
      EnumSet.of(Alteration.TARGET_LATER, Alteration.SPAN_MORE);

  private static LockstepSubject subject(Alteration dut) {
    Executor executor = SoftExecutor.promise().build();
    return new LockstepSubject(
        executor,
        new Ports(executor, SoftExecutor.DESIGN),
        new Driving(
            Optional.empty(), Pacing.varied(), Pacing.bubbles(0.3), 0.001, Optional.empty()),
        SoftExecutor.maker(dut, RayRules.standard()),
        false,
        false);
  }

  /** The first row in which they part; -1 for none. */
  private static long apart(Alteration dut, Alteration model, int rays, Quantities quantities) {
    LockstepSubject subject = subject(dut);
    CycleWatcher watcher =
        new CycleWatcher(
            new CycleModel(subject.executor(), Change.of(model), quantities),
            Long.MAX_VALUE - 1,
            true);
    // What no reset clears is known where the DUT wakes up with zeros alone.
    Segment segment = Segment.of(7, 0, rays, rays).startingFrom(Engine.Start.ZEROS);
    new LockstepRunner(subject, Change.of(dut)).run(segment, watcher);
    return watcher.apart() == Long.MAX_VALUE - 1 ? -1 : watcher.apart();
  }

  @Test
  void rightThroughWrongPathsResetsAndAborts() {
    Quantities quantities = new Quantities(0);
    assertEquals(-1, apart(Alteration.NONE, Alteration.NONE, RAYS, quantities));
    assertTrue(
        quantities.all().stream().anyMatch(one -> one.changes().length > 500),
        () -> quantities.all().size() + " quantities, none of which changes often");
  }

  @Test
  void aCycleTooManyIsNoticed() {
    assertTrue(apart(Alteration.FIRST_LATER, Alteration.NONE, RAYS, new Quantities(0)) >= 0);
  }

  @Test
  @Tag("thorough")
  void itMayDoOneThingOtherwiseAsWell() {
    List<String> parted = new ArrayList<>();
    for (Alteration altered : Alteration.values()) {
      if (!UNFIT.contains(altered)) {
        long row = apart(altered, altered, FEW, new Quantities(0));
        if (row >= 0) {
          parted.add(altered.name() + " at row " + row);
        }
      }
    }
    assertEquals(List.of(), parted);
  }

  private static Quantity named(Quantities quantities, String name) {
    return quantities.all().stream().filter(one -> one.name.equals(name)).findFirst().orElseThrow();
  }

  /** What an object gives is the changed model's own, not the promised one. */
  @Test
  void aChangeOfWhatAnObjectGivesShowsInItsClose() {
    Quantities promised = new Quantities(0);
    Quantities changed = new Quantities(0);
    assertEquals(-1, apart(Alteration.NONE, Alteration.NONE, FEW, promised));
    assertEquals(-1, apart(Alteration.NONE, Alteration.INWARD_INVERTED, FEW, changed));
    Quantity right = named(promised, "closed at inward");
    Quantity inverted = named(changed, "closed at inward");
    int defined = 0;
    for (int row = 0; row < right.rows(); row++) {
      assertEquals(right.isDefined(row), inverted.isDefined(row));
      if (right.isDefined(row)) {
        assertEquals(1 - right.value(row), inverted.value(row));
        defined++;
      }
    }
    assertTrue(defined > 0);
  }

  /** A register that has what was dispatched next anyway is not taken for where a skip goes on. */
  @Test
  void whereASkipGoesOnIsSaidWhereItWasForetoldWronglyAlone() {
    Quantities quantities = new Quantities(0);
    assertEquals(-1, apart(Alteration.NONE, Alteration.NONE, RAYS, quantities));
    Quantity wrongly = named(quantities, "foretold wrongly");
    Quantity address = named(quantities, "goes on at");
    int turned = 0;
    for (int row = 0; row < wrongly.rows(); row++) {
      boolean turns = wrongly.isDefined(row) && wrongly.value(row) == 1;
      assertEquals(turns, address.isDefined(row));
      turned += turns ? 1 : 0;
    }
    assertTrue(turned > 0);
  }

  @Test
  void aWordThatIsReadStandsInThePartsOfItsPort() {
    LockstepSubject subject = subject(Alteration.NONE);
    Quantities quantities = new Quantities(0);
    long[] words = new Random(3).longs(32).toArray();
    new CycleModel(subject.executor(), Change.NONE, quantities).reads(0, words);
    BigInteger word = BigInteger.ZERO;
    for (int i = 0; i < words.length; i++) {
      BigInteger part = new BigInteger(Long.toUnsignedString(words[i]));
      word = word.or(part.shiftLeft(i * Long.SIZE));
    }
    int at = 0;
    for (Quantity part : quantities.all()) {
      assertEquals(word.shiftRight(at).longValue() & ((1L << part.bits) - 1), part.value(0));
      at += part.bits;
    }
    assertEquals(subject.executor().layout().width(), at);
  }

  @Test
  void anotherSegmentIsRightForLonger() {
    LockstepSubject subject = subject(Alteration.AFTER_WRONG_LATER);
    Segment segment = Segment.of(7, 0, RAYS, RAYS);
    long row = new LockstepRunner(subject).run(segment).tally().rows()[0];
    RightForLonger longer = RightForLonger.than(subject, segment, row).orElseThrow();
    assertTrue(longer.row() > row);
    assertEquals(longer.row(), new LockstepRunner(subject).run(longer.segment()).tally().rows()[0]);
    assertEquals(Optional.empty(), RightForLonger.than(subject, segment, Long.MAX_VALUE));
  }

  /** Lists that a changed model loses are lost below the top of its stack, too. */
  @Test
  void aListThatIsLostIsLostWhereItStood() {
    Quantities quantities = new Quantities(0);
    assertEquals(-1, apart(Alteration.LIST_LESS, Alteration.LIST_LESS, RAYS, quantities));
    Quantity height = named(quantities, "lists");
    Quantity lowest = named(quantities, RetirementQuantities.IN_PLACE + "0 count");
    int deepest = subject(Alteration.NONE).executor().limits().depth();
    int deep = 0;
    for (int row = 0; row < height.rows(); row++) {
      if (height.isDefined(row) && height.value(row) == deepest) {
        assertEquals(0, lowest.value(row));
        deep++;
      }
    }
    assertTrue(deep > 0);
  }

  /** Most programs have skips; rays that come to none that is foretold wrongly are right. */
  @Test
  void raysThatAreRightAloneAreRightTogether() {
    LockstepSubject subject = subject(Alteration.AFTER_WRONG_LATER);
    Segment segment = Segment.of(7, 0, RAYS, RAYS);
    RightForLonger longer = RightForLonger.rayByRay(subject, segment).orElseThrow();
    assertTrue(longer.row() > 1000, longer::toString);
    LockstepRunner again = new LockstepRunner(longer.subject());
    assertEquals(longer.row(), again.run(longer.segment()).cycles() - 1);
    assertEquals(Optional.empty(), again.divergence());
    assertEquals(
        Optional.empty(), RightForLonger.rayByRay(subject(Alteration.FIRST_LATER), segment));
  }
}
