package dev.plumbline.run;

import dev.plumbline.PlumblineException;
import dev.plumbline.drive.Binding;
import dev.plumbline.drive.Engine;
import dev.plumbline.drive.Feed;
import dev.plumbline.drive.Segment;
import dev.plumbline.drive.Settings;
import dev.plumbline.judge.Checker;
import dev.plumbline.judge.ContractRunner;
import dev.plumbline.judge.Tally;
import dev.plumbline.verdict.Fact;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * References that a DUT might follow instead of the one it is held to, by name. Where a segment
 * fails it is run again under each, up to the first row that differs then. One that has none among
 * the mismatches that are kept, or before them, explains them all; of several, the one that
 * explains most of what follows.
 *
 * @param bindings the contract with each other reference, simplest first; made when needed
 */
public record Alternatives(Map<String, Supplier<Binding>> bindings) {
  private static final long NEVER = Long.MAX_VALUE;

  /** Most that are named beside the first. */
  private static final int MOST_ALIKE = 15;

  /** What explains mismatches in given rows, ascending, where something does. */
  Optional<Fact> hint(Segment segment, long[] rows, Settings settings, Engine.Maker maker) {
    long farthest = rows[rows.length - 1];
    String best = null;
    List<String> alike = new ArrayList<>();
    for (Map.Entry<String, Supplier<Binding>> one : bindings.entrySet()) {
      try {
        long first = firstMismatch(one.getValue().get(), segment, settings, maker);
        if (first > farthest) {
          farthest = first;
          best = one.getKey();
          alike.clear();
        } else if (best != null && first == farthest && changes(one.getKey()) == changes(best)) {
          alike.add(one.getKey());
        }
      } catch (PlumblineException e) {
        // The DUT ended under way: a mismatch is reported all the same, without this hint.
      }
    }
    return best == null
        ? Optional.empty()
        : Optional.of(Fact.of("hint", words(best, rows.length, farthest) + others(alike)));
  }

  /** How many calls it takes to declare one. */
  private static long changes(String declaration) {
    return declaration.chars().filter(c -> c == '(').count();
  }

  /** What explains as much as the first. */
  private static String others(List<String> alike) {
    return alike.isEmpty()
        ? ""
        : "; so it is under "
            + String.join(", ", alike.subList(0, Math.min(MOST_ALIKE, alike.size())))
            + (alike.size() > MOST_ALIKE ? ", ..." : "");
  }

  private static long firstMismatch(
      Binding binding, Segment segment, Settings settings, Engine.Maker maker) {
    UntilMismatch watcher = new UntilMismatch();
    return first(new ContractRunner(binding, settings, maker).run(segment, watcher).tally());
  }

  private static long first(Tally tally) {
    return tally.mismatches == 0 ? NEVER : tally.rows()[0];
  }

  private static final class UntilMismatch implements ContractRunner.Watcher {
    private boolean found;

    @Override
    public void block(long firstRow, Feed feed, Checker checker) {
      found = first(checker.tally()) != NEVER;
    }

    @Override
    public boolean wantsMore(long rowsSoFar) {
      return !found;
    }
  }

  private static String words(String name, int kept, long first) {
    return (kept == 1 ? "the mismatch that is kept fits " : "all " + kept + " kept mismatches fit ")
        + name
        + ": held to that, "
        + (first == NEVER
            ? "nothing in this segment differs"
            : "nothing differs before cycle " + first);
  }
}
