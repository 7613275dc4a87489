package dev.plumbline.lockstep;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * Follows a wrong value against the flow of data, as long as signals hold the same, or have it
 * among their bits, and are not known to be right.
 */
final class CopiedFrom {
  /** Bits of a value that is hardly the same by chance. */
  private static final int FEWEST_BITS = 8;

  /** Bits that are hardly somewhere in a wider signal by chance. */
  private static final int FEWEST_WITHIN = 12;

  /** From a bit to another one beside it. */
  private static final int FEWEST_TURNS = 3;

  /** More than the stages of a delay line. */
  private static final int MOST_STEPS = 64;

  /** Wires between a port and what it shows. */
  private static final int MOST_WIRES = 16;

  /** Rows in which a wire has what it comes from. */
  private static final int ROWS = 256;

  /** Bits of a signal that have a wrong value in a row. */
  record Place(int g, int offset, int width, int row) {}

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
    return origin(new Place(g, 0, slices.signal(g).width(), row));
  }

  /** The same of a port, which may show few bits of what is inside. */
  Place behindPort(int g, int row) {
    Place at = new Place(g, 0, slices.signal(g).width(), row);
    for (int wire = 0; wire < MOST_WIRES; wire++) {
      List<Place> before = wires(at);
      if (before.size() != 1) {
        break;
      }
      at = before.get(0);
    }
    return origin(at);
  }

  private Place origin(Place from) {
    Place at = from;
    for (int step = 0; step < MOST_STEPS; step++) {
      List<Place> before = before(at);
      if (before.size() != 1) {
        return at;
      }
      at = before.get(0);
    }
    return at;
  }

  /** What has the same bits in every row, a wider signal included. */
  private List<Place> wires(Place at) {
    List<Place> found = new ArrayList<>();
    if (slices.signal(at.g()).register() || at.width() > Long.SIZE) {
      return found;
    }
    for (String source : sources.getOrDefault(slices.name(at.g()), List.of())) {
      int g = slices.find(source);
      if (g < 0 || g == at.g()) {
        continue;
      }
      for (int offset = 0; offset + at.width() <= slices.signal(g).width(); offset++) {
        Place one = new Place(g, offset, at.width(), at.row());
        if (isWire(at, one) && !isRight(one)) {
          found.add(one);
        }
      }
    }
    return found;
  }

  private boolean isWire(Place at, Place from) {
    Set<Long> values = new HashSet<>();
    for (int row = Math.max(0, at.row() - ROWS); row <= at.row(); row++) {
      long bits = bits(at, row);
      if (bits != bits(from, row)) {
        return false;
      }
      values.add(bits);
    }
    return values.size() > 1 && values.size() * at.width() >= FEWEST_WITHIN;
  }

  private long bits(Place at, int row) {
    return slices.bits(at.g(), at.offset(), at.width(), row);
  }

  private boolean isWhole(Place at) {
    return at.width() == slices.signal(at.g()).width();
  }

  private List<Place> before(Place at) {
    int width = slices.signal(at.g()).width();
    int row = at.row() - (slices.signal(at.g()).register() ? 1 : 0);
    List<Place> found = new ArrayList<>();
    List<Place> within = new ArrayList<>(); // wider ones
    if (width < FEWEST_BITS || row < 0) {
      return found;
    }
    for (String source : sources.getOrDefault(slices.name(at.g()), List.of())) {
      int g = slices.find(source);
      if (g < 0 || g == at.g()) {
        continue;
      }
      if (slices.signal(g).width() == width) {
        add(at, new Place(g, at.offset(), at.width(), row), found);
      } else if (slices.signal(g).width() > width && tells(at)) {
        for (int offset = 0; offset + at.width() <= slices.signal(g).width(); offset++) {
          add(at, new Place(g, offset, at.width(), row), within);
        }
      }
    }
    List<Place> all = found.isEmpty() ? within : found;
    return all.stream().anyMatch(this::isRight) ? List.of() : all; // it arose from what is right
  }

  /** Whether its bits are hardly among those of a wider signal by chance: no end of a range is. */
  private boolean tells(Place at) {
    if (at.width() < FEWEST_WITHIN || at.width() > Long.SIZE) {
      return false;
    }
    long bits = bits(at, at.row());
    long beside = bits >>> 1;
    long inside = (1L << (at.width() - 1)) - 1;
    return Long.bitCount((bits ^ beside) & inside) >= FEWEST_TURNS;
  }

  private void add(Place at, Place from, List<Place> into) {
    if (isSame(at, from) && !isOlder(from, at)) {
      into.add(from);
    }
  }

  private boolean isSame(Place one, Place other) {
    boolean areWhole = isWhole(one) && isWhole(other);
    return areWhole
        ? slices.isSame(one.g(), one.row(), other.g(), other.row())
        : bits(one, one.row()) == bits(other, other.row());
  }

  /** Whether it has stood there since before the other one last changed: it was used already. */
  private boolean isOlder(Place from, Place at) {
    return slices.signal(at.g()).register()
        && changed(from, from.row()) < changed(at, Math.max(0, at.row() - 1));
  }

  /** The row in which a place took what it has in a row; 0 for before the window. */
  private int changed(Place at, int row) {
    int since = row;
    while (since > 0
        && isSame(
            new Place(at.g(), at.offset(), at.width(), since - 1),
            new Place(at.g(), at.offset(), at.width(), row))) {
      since--;
    }
    return since;
  }

  private boolean isRight(Place at) {
    int first = slices.firstAlike(at.g());
    return right.stream()
        .anyMatch(
            match ->
                slices.firstAlike(match.g()) == first
                    && match.offset() < at.offset() + at.width()
                    && at.offset() < match.offset() + match.width()
                    && match.quantity().isDefined(at.row() - match.delay()));
  }
}
