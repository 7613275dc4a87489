package dev.plumbline.lockstep;

import dev.plumbline.lockstep.SceneScript.Part;
import dev.plumbline.lockstep.SmallScenes.Gaze;
import dev.plumbline.lockstep.SmallScenes.Shape;
import dev.plumbline.lockstep.SmallScenes.Unit;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.function.IntSupplier;
import java.util.function.Predicate;

/**
 * Looks for plain scenes with fewer solids, skips and combinations than a script has: every
 * sequence of a few, then shapes that are repeated, all of them at one size before any at the next,
 * so that the longest are tried only where no shape shows it with less.
 */
final class PlainSearch {
  /** All sequences of so many are tried, skips among them: 80. */
  private static final int MOST_WITH_SKIPS = 5;

  /** All sequences of objects of so many: 182. */
  private static final int MOST_OF_OBJECTS = 12;

  /** Every size up to it is tried: some things show at one distance in memory alone. */
  private static final int CLOSELY = 16;

  /** Then sizes grow by one part in so many. */
  private static final int GROWTH = 4;

  private final SmallScenes scenes;
  private final Predicate<List<Part>> tries;
  private final IntSupplier solids;
  private final int length;
  private final Map<Shape, Integer> rooms = new EnumMap<>(Shape.class);

  /**
   * Prepares to look.
   *
   * @param tries whether a scene shows the same, which is then the one to be smaller than
   * @param solids of the one to be smaller than
   * @param length most operations of a program
   */
  PlainSearch(SmallScenes scenes, Predicate<List<Part>> tries, IntSupplier solids, int length) {
    this.scenes = scenes;
    this.tries = tries;
    this.solids = solids;
    this.length = length;
  }

  /** Whether one was found. */
  boolean finds() {
    boolean found = findsSequence();
    for (Gaze gaze : SmallScenes.FEW) {
      found |= findsRepeated(List.of(Shape.values()), gaze);
    }
    found |= findsRepeated(SmallScenes.OBJECTS, Gaze.MANY_ANY_HIT);
    return found;
  }

  private boolean findsSequence() {
    for (int size = 1; size <= MOST_OF_OBJECTS && size < solids.getAsInt(); size++) {
      List<Unit> units = size > MOST_WITH_SKIPS ? SmallScenes.OF_OBJECTS : List.of(Unit.values());
      if (findsSequence(new ArrayList<>(), size, units)) {
        return true;
      }
    }
    return false;
  }

  /** Puts every sequence of a size behind what is there. */
  private boolean findsSequence(List<Unit> before, int size, List<Unit> units) {
    if (size == 0) {
      List<Part> parts = scenes.of(before);
      return !parts.isEmpty() && tries.test(parts);
    }
    for (Unit unit : units) {
      if (unit.solids() <= size) {
        before.add(unit);
        boolean found = findsSequence(before, size - unit.solids(), units);
        before.remove(before.size() - 1);
        if (found) {
          return true;
        }
      }
    }
    return false;
  }

  private boolean findsRepeated(List<Shape> shapes, Gaze gaze) {
    boolean found = false;
    int[] tried = new int[Shape.values().length]; // so many do not show it, by place in the list
    int size = 0;
    while (size < solids.getAsInt() - 1) {
      size = Math.min(size + (size < CLOSELY ? 1 : size / GROWTH), solids.getAsInt() - 1);
      for (int i = 0; i < shapes.size(); i++) {
        Shape shape = shapes.get(i);
        int most = Math.min(size, solids.getAsInt() - 1); // one may have been found at this size
        int count = Math.min(shape.countOf(most), room(shape));
        if (count > tried[i]) {
          if (tries.test(scenes.of(shape, count, gaze))) {
            found = true;
            fewer(shape, gaze, tried[i], count);
          }
          tried[i] = count;
        }
      }
    }
    return found;
  }

  /** Approaches the least count by halves. */
  private void fewer(Shape shape, Gaze gaze, int tooFew, int enough) {
    int none = tooFew;
    int shown = enough;
    while (shown - none > 1) {
      int middle = (none + shown) / 2;
      if (tries.test(scenes.of(shape, middle, gaze))) {
        shown = middle;
      } else {
        none = middle;
      }
    }
  }

  /** The highest count that memory and stack have room for. */
  private int room(Shape shape) {
    return rooms.computeIfAbsent(
        shape,
        any -> {
          int fits = 0;
          int excess = length;
          while (excess - fits > 1) {
            int middle = (fits + excess) / 2;
            if (scenes.of(shape, middle, Gaze.ONE).isEmpty()) {
              excess = middle;
            } else {
              fits = middle;
            }
          }
          return fits;
        });
  }
}
