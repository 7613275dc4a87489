package dev.plumbline.samples.faults;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.BooleanSupplier;
import java.util.function.Predicate;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * How many solids, skips and combinations a ray has to meet at least until operations wait as some
 * faults of operation_queue.sv need it: every order of them is tried, by the timing that the header
 * of scene_executor.sv promises for the small executor. Nothing here is taken from the RTL's
 * statements or from the models. What {@link SceneFaultFacts} says of these faults is held to it.
 */
@Tag("thorough")
class QueueFactsTest {
  private static final int ARRIVAL = 38; // cycles after dispatch
  private static final int ROOM = 12; // dispatched and not retired
  private static final int WORDS = 64;
  private static final int SPANS = 2; // in a list
  private static final int LISTS = 3;

  /** Of the queue: the oldest and the next have registers, so that these wait in its memory. */
  private static final int BESIDE_MEMORY = 2;

  /** The next dispatch behind a skip: predicted rightly not taken, taken, and predicted wrongly. */
  private static final int[] BEHIND_A_SKIP = {1, 2, 12};

  private static final int MOST = 9;

  /**
   * A program as far as time goes, and how a ray without wrong late decisions goes through it:
   * those empty the queue, as its end does.
   */
  private static final class Passage {
    private final int[] cost = new int[WORDS]; // cycles that a retirement takes
    private final int[] after = new int[WORDS]; // cycles to the next dispatch
    private final long[] arrival = new long[WORDS];
    private final long[] end = new long[WORDS];
    private final boolean[] inMemory = new boolean[WORDS];
    private int length;

    private void add(int cycles, int toNext) {
      cost[length] = cycles;
      after[length] = toNext;
      long before = length == 0 ? 2 - 1 : arrival[length - 1] - ARRIVAL + after[length - 1];
      long free = length < ROOM ? 0 : end[length - ROOM] + 1;
      long dispatch = length == 0 ? 2 : Math.max(before, free);
      arrival[length] = dispatch + ARRIVAL;
      int older = 0;
      for (int i = Math.max(0, length - ROOM); i < length; i++) {
        older += end[i] >= arrival[length] ? 1 : 0;
      }
      inMemory[length] = older >= BESIDE_MEMORY;
      long first = length == 0 ? 0 : end[length - 1] + 1;
      end[length] = Math.max(arrival[length], first) + cycles - 1;
      length++;
    }

    private void remove() {
      length--;
    }

    private boolean hasRoom() {
      return length < WORDS - 1;
    }

    /** Which operations are put into the memory, in order. */
    private List<Integer> putAway() {
      List<Integer> put = new ArrayList<>();
      for (int i = 0; i < length; i++) {
        if (inMemory[i]) {
          put.add(i);
        }
      }
      return put;
    }

    /** How many are in the memory at a time. */
    private int mostInMemory() {
      int most = 0;
      for (int i = 0; i < length; i++) {
        int there = 0;
        for (int j = 0; j <= i; j++) {
          // It leaves the memory as the one two before it retires.
          there += inMemory[j] && (end[j - BESIDE_MEMORY] >= arrival[i]) ? 1 : 0;
        }
        most = Math.max(most, there);
      }
      return most;
    }

    /** Whether the oldest keeps one waiting that came from memory, with another behind it there. */
    private boolean keepsOneFromMemoryWaiting() {
      for (int i = 0; i + 2 < length; i++) {
        if (inMemory[i + 1] && inMemory[i + 2] && arrival[i + 2] < end[i] && cost[i] > 1) {
          return true;
        }
      }
      return false;
    }
  }

  private final Passage passage = new Passage();
  private final List<Integer> spans = new ArrayList<>(); // of the lists on the stack
  private Predicate<Passage> wanted;

  /** The fewest with which a ray may have what is wanted; one more than {@link #MOST} for none. */
  private int least(Predicate<Passage> what) {
    wanted = what;
    for (int size = 1; size <= MOST; size++) {
      if (betweenObjects(size)) {
        return size;
      }
    }
    return MOST + 1;
  }

  private boolean with(int cycles, int toNext, BooleanSupplier rest) {
    if (!passage.hasRoom()) {
      return false;
    }
    passage.add(cycles, toNext);
    boolean found = rest.getAsBoolean();
    passage.remove();
    return found;
  }

  private boolean betweenObjects(int left) {
    if (left == 0) {
      return with(1, 1, () -> wanted.test(passage)); // the end
    }
    return with(1, 1, () -> inObject(left))
        || Arrays.stream(BEHIND_A_SKIP)
            .anyMatch(toNext -> with(1, toNext, () -> betweenObjects(left - 1)));
  }

  private boolean inObject(int left) {
    if (spans.size() == 1) {
      int only = spans.remove(0);
      boolean found = with(2, 1, () -> betweenObjects(left)); // close
      spans.add(only);
      if (found) {
        return true;
      }
    }
    if (left >= spans.size() && left > 0 && spans.size() < LISTS) {
      spans.add(1);
      boolean found = with(1, 1, () -> inObject(left - 1));
      spans.remove(spans.size() - 1);
      if (found) {
        return true;
      }
    }
    return left > 0 && spans.size() > 1 && combined(left);
  }

  /** With every number of different distances. */
  private boolean combined(int left) {
    int right = spans.remove(spans.size() - 1);
    int under = spans.remove(spans.size() - 1);
    spans.add(Math.min(SPANS, right + under));
    boolean found = false;
    for (int distances = 2 * (right + under); distances >= 0 && !found; distances--) {
      found = with(1 + distances, 1, () -> inObject(left - 1));
    }
    spans.remove(spans.size() - 1);
    spans.add(under);
    spans.add(right);
    return found;
  }

  private static int fact(String fault) {
    return SceneFaultFacts.least(fault);
  }

  @Test
  void thirteenEntriesArePutAwayOfNineOperations() {
    int least = least(one -> one.putAway().size() >= 13);
    assertEquals(fact("index-fails-to-wrap"), least);
    assertEquals(fact("write-index-runs-on"), least);
  }

  @Test
  void theFirstOfTwelveEntriesTakesLongerThanTheLastOfNoFewerThanTenOperations() {
    int least =
        least(
            one -> {
              List<Integer> put = one.putAway();
              return put.size() >= 12 && one.cost[put.get(0)] > one.cost[put.get(11)];
            });
    assertEquals(MOST + 1, least, "none up to the most that are gone through");
    assertEquals(fact("read-index-wraps-early"), least);
  }

  @Test
  void fourEntriesAreInMemoryOfFiveOperations() {
    assertEquals(fact("waiting-of-two-bits"), least(one -> one.mostInMemory() >= 4));
  }

  @Test
  void anEntryFromMemoryIsKeptWaitingOfFourOperations() {
    assertEquals(fact("entry-changes-while-it-waits"), least(Passage::keepsOneFromMemoryWaiting));
  }
}
