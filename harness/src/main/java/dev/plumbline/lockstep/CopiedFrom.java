package dev.plumbline.lockstep;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;

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
  private final Multiplexers multiplexers;

  /** With another window of the same signals, where there is one. */
  CopiedFrom(
      SignalSlices slices,
      Optional<SignalSlices> other,
      Map<String, List<String>> sources,
      List<QuantityMatch> right) {
    this.slices = slices;
    this.sources = sources;
    this.right = right;
    this.multiplexers = new Multiplexers(Stream.concat(Stream.of(slices), other.stream()).toList());
  }

  /**
   * Where the wrong value of a signal has come from; that signal itself where it arose there. What
   * only comes in another cycle than it should is right where it arose: it has come from where it
   * fell out of step.
   */
  Place origin(QuantityMatch wrong) {
    List<Place> way =
        wrong.isPort()
            ? behindPort(wrong.g(), wrong.differs())
            : way(place(wrong.g(), wrong.differs()));
    Place first = way.get(way.size() - 1);
    return isOutOfStep(wrong) ? outOfStep(way).orElse(first) : first;
  }

  /** Where the value of a signal in a row has come from. */
  Place origin(int g, int row) {
    List<Place> way = way(place(g, row));
    return way.get(way.size() - 1);
  }

  private Place place(int g, int row) {
    return new Place(g, 0, slices.signal(g).width(), row);
  }

  /** The way back from a port, which may show few bits of what is inside. */
  private List<Place> behindPort(int g, int row) {
    Place at = place(g, row);
    for (int wire = 0; wire < MOST_WIRES; wire++) {
      List<Place> before = wires(at);
      if (before.size() != 1) {
        break;
      }
      at = before.get(0);
    }
    return way(at);
  }

  private List<Place> way(Place from) {
    List<Place> way = new ArrayList<>(List.of(from));
    while (way.size() <= MOST_STEPS) {
      List<Place> before = before(way.get(way.size() - 1));
      if (before.size() != 1) {
        break;
      }
      way.add(before.get(0));
    }
    return way;
  }

  /** Whether what is due has been there in the cycle before or is there in the next one, undue. */
  private boolean isOutOfStep(QuantityMatch wrong) {
    if (wrong.width() < FEWEST_BITS) {
      return false;
    }
    Quantity quantity = wrong.quantity();
    int due = wrong.differs() - wrong.delay();
    long mask = wrong.width() == Long.SIZE ? -1 : (1L << wrong.width()) - 1;
    long value = quantity.value(due) & mask;
    for (int beside : new int[] {-1, 1}) {
      int row = wrong.differs() + beside;
      boolean isDue =
          quantity.isDefined(due + beside) && (quantity.value(due + beside) & mask) == value;
      if (row >= 0
          && row < slices.rows()
          && !isDue
          && slices.bits(wrong.g(), wrong.offset(), wrong.width(), row) == value) {
        return true;
      }
    }
    return false;
  }

  /** The first place before those that others pass in the right cycle. */
  private Optional<Place> outOfStep(List<Place> way) {
    int inStep = 0;
    while (inStep < way.size() && isInStep(way.get(inStep))) {
      inStep++;
    }
    return inStep == 0 || inStep == way.size() ? Optional.empty() : Optional.of(way.get(inStep));
  }

  private boolean isInStep(Place at) {
    return right.stream().anyMatch(match -> isOf(match, at) && match.quantity().goesAlong());
  }

  /** What has the same bits in every row, a wider signal included. */
  private List<Place> wires(Place at) {
    List<Place> found = new ArrayList<>();
    if (slices.signal(at.g()).register() || at.width() > Long.SIZE) {
      return found;
    }
    for (int g : sources(at.g())) {
      for (int offset = 0; offset + at.width() <= slices.signal(g).width(); offset++) {
        Place one = new Place(g, offset, at.width(), at.row());
        if (isWire(at, one) && !isRight(one)) {
          found.add(one);
        }
      }
    }
    return found;
  }

  private List<Integer> sources(int of) {
    return sources.getOrDefault(slices.name(of), List.of()).stream()
        .map(slices::find)
        .filter(g -> g >= 0 && g != of)
        .toList();
  }

  /** Few bits are the same by chance; but what a multiplexer took they have come from. */
  private List<Place> taken(Place at) {
    int taken =
        multiplexers.taken(at.g(), sources(at.g()), at.row(), bit -> isRight(place(bit, at.row())));
    Place from = taken < 0 ? at : place(taken, at.row());
    return taken < 0 || isRight(from) ? List.of() : List.of(from);
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
    if (width < FEWEST_BITS) {
      return slices.signal(at.g()).register() ? found : taken(at);
    }
    if (row < 0) {
      return found;
    }
    for (int g : sources(at.g())) {
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
    return right.stream()
        .anyMatch(match -> isOf(match, at) && match.quantity().isDefined(at.row() - match.delay()));
  }

  /** Whether a match is of bits of a place. */
  private boolean isOf(QuantityMatch match, Place at) {
    return slices.firstAlike(match.g()) == slices.firstAlike(at.g())
        && match.offset() < at.offset() + at.width()
        && at.offset() < match.offset() + match.width();
  }
}
