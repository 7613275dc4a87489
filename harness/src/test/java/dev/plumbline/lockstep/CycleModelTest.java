package dev.plumbline.lockstep;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.drive.Engine;
import dev.plumbline.drive.Segment;
import dev.plumbline.models.traversal.Alteration;
import dev.plumbline.models.traversal.RayRules;
import dev.plumbline.stimulus.Pacing;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
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
}
