package dev.plumbline.lockstep;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.traversal.Alteration;
import dev.plumbline.verdict.MismatchGroup;
import dev.plumbline.verdict.Verdict;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;

/** An executor that does one thing otherwise is told what that is. */
@EnabledIfSystemProperty(named = "plumbline.long", matches = "true")
class AlterationsTest {
  /** One in so many is tried. */
  private static final int EVERY = Integer.getInteger("plumbline.every", 1);

  /** Beyond an end there is no program in Java, and the ports have no room for another span. */
  private static final Set<Alteration> UNFIT =
      EnumSet.of(Alteration.NONE, Alteration.TARGET_LATER, Alteration.SPAN_MORE);

  /** On a busy machine the time may run out before. */
  private static boolean allWereTried(Verdict verdict) {
    return verdict.groups().get(0).tried() >= Alteration.values().length;
  }

  /** What few rays do not show, such as a box right at its margin, more may. */
  private static Verdict red(Alteration altered) {
    Verdict verdict = red(altered, 1_024);
    return verdict.isPass() ? red(altered, 16_384) : verdict;
  }

  private static Verdict red(Alteration altered, int rays) {
    return SoftExecutor.altered(altered)
        .named("altered")
        .recorder(verdict -> Optional.empty())
        .cases(rays)
        .initialStates(0)
        .run();
  }

  private static boolean isTold(Alteration altered, Verdict verdict) {
    return verdict.groups().stream()
        .map(MismatchGroup::likely)
        .flatMap(List::stream)
        .flatMap(likely -> Stream.of(likely.words().split(SceneKinds.OR)))
        .anyMatch(altered.toString()::equals);
  }

  @Test
  void aTieThatTakesTheLaterAndACycleTooManyAreTold() {
    for (Alteration altered : List.of(Alteration.TIE_TO_THE_LATER, Alteration.FIRST_LATER)) {
      Verdict verdict = red(altered);
      assertTrue(isTold(altered, verdict) || !allWereTried(verdict), verdict::facts);
    }
  }

  /** Some make no difference that anybody could see, and some are seen as another. */
  @Test
  void everyOneThatShowsIsTold() {
    List<Alteration> silent = new ArrayList<>();
    List<String> untold = new ArrayList<>();
    for (Alteration altered : Alteration.values()) {
      if (altered.ordinal() % EVERY != 0 || UNFIT.contains(altered)) {
        continue;
      }
      Verdict verdict = red(altered);
      if (verdict.isPass()) {
        silent.add(altered);
      } else if (!isTold(altered, verdict) && allWereTried(verdict)) {
        untold.add(altered.name() + ": " + verdict.groups().get(0).lines(1));
      }
    }
    System.out.println("silent: " + silent);
    assertEquals(List.of(), untold);
    assertTrue(silent.size() <= 3, silent::toString);
  }
}
