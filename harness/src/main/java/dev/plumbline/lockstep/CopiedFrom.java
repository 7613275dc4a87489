package dev.plumbline.lockstep;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/**
 * Follows a wrong value against the flow of data, as long as signals hold the same and are not
 * known to be right.
 */
final class CopiedFrom {
  /** Bits of a value that is hardly the same by chance. */
  private static final int FEWEST_BITS = 8;

  private static final int MOST_STEPS = 6;

  /** A signal that has a wrong value in a row. */
  record Place(int g, int row) {}

  private final SignalSlices slices;
  private final Map<String, List<String>> sources;
  private final List<QuantityMatch> right;

  CopiedFrom(SignalSlices slices, Map<String, List<String>> sources, List<QuantityMatch> right) {
    this.slices = slices;
    this.sources = sources;
    this.right = right;
  }

  /**
   * Where the value of a signal in a row has come from; that signal itself where it arose there.
   */
  Place origin(int g, int row) {
    Place at = new Place(g, row);
    for (int step = 0; step < MOST_STEPS; step++) {
      List<Place> before = before(at);
      if (before.size() != 1) {
        return at;
      }
      at = before.get(0);
    }
    return at;
  }

  private List<Place> before(Place at) {
    List<Place> found = new ArrayList<>();
    int width = slices.signal(at.g()).width();
    int row = at.row() - (slices.signal(at.g()).register() ? 1 : 0);
    if (width < FEWEST_BITS || row < 0) {
      return found;
    }
    for (String source : sources.getOrDefault(slices.name(at.g()), List.of())) {
      int g = slices.find(source);
      if (g >= 0
          && g != at.g()
          && slices.signal(g).width() == width
          && slices.isSame(at.g(), at.row(), g, row)
          && !isOlder(g, row, at)) {
        if (isRight(g, row)) {
          return List.of(); // it arose from what is right
        }
        found.add(new Place(g, row));
      }
    }
    return found;
  }

  /** Whether it has stood there since before the other one last changed: it was used already. */
  private boolean isOlder(int g, int row, Place at) {
    return slices.signal(at.g()).register()
        && changed(g, row) < changed(at.g(), Math.max(0, at.row() - 1));
  }

  /** The row in which a signal took what it has in a row; 0 for before the window. */
  private int changed(int g, int row) {
    int since = row;
    while (since > 0 && slices.isSame(g, since - 1, g, row)) {
      since--;
    }
    return since;
  }

  private boolean isRight(int g, int row) {
    int first = slices.firstAlike(g);
    return right.stream()
        .anyMatch(
            match ->
                slices.firstAlike(match.g()) == first
                    && match.quantity().isDefined(row - match.delay()));
  }
}
