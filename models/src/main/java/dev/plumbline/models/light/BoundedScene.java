package dev.plumbline.models.light;

import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * What a ray known within intervals surely meets, or that it is open: membership of each object
 * along the ray in three values, inside, outside or open.
 *
 * <p>Between the ends that solids may have, each is surely in, surely out or open, and so is what
 * is combined of them (S. Kleene's three values). Where an object goes from surely out to surely
 * in, or back, with the end of one solid alone between, the surface there is that solid's.
 */
final class BoundedScene {
  private static final int OUT = 0;
  private static final int IN = 1;
  private static final int OPEN = 2;

  /** Three answers. */
  enum Answer {
    YES,
    NO,
    OPEN
  }

  private record Part(int from, int to) {}

  private final Program program;
  private final BoundedSolids solids;
  private final List<Part> objects = new ArrayList<>();
  private final int[] stack;
  private final double[] places;
  private int placeCount;

  // Of an object: its first event.
  private boolean eventSure;
  private double eventLow;
  private double eventHigh;
  private int eventAddress;
  private int eventFace;
  private boolean eventLeaving;

  /** Of the ray traced last, where the answer is yes. */
  double low;

  double high;
  int address;
  int face;
  boolean leaving;

  BoundedScene(Program program) {
    this.program = program;
    this.solids = new BoundedSolids(program);
    this.stack = new int[program.limits().depth()];
    int begin = 0;
    int most = 0;
    for (int at = 0; at < program.length(); at++) {
      if (program.at(at).kind() == OperationKind.BEGIN) {
        begin = at + 1;
      } else if (program.at(at).kind() == OperationKind.CLOSE) {
        objects.add(new Part(begin, at));
        most = Math.max(most, at - begin);
      }
    }
    this.places = new double[4 * most + 2];
  }

  /** What rays are held against. */
  BoundedSolids solids() {
    return solids;
  }

  /** Whether a surface is met, and only one may be the nearest. */
  Answer trace(Interval[] origin, Interval[] direction) {
    solids.cross(origin, direction);
    double limit = solids.longest();
    boolean sure = true;
    low = limit;
    high = limit;
    double next = limit; // the least of the others
    for (Part object : objects) {
      if (!findEvent(object) || eventLow >= limit) {
        continue;
      }
      if (eventLow < low) {
        next = low;
        low = eventLow;
        high = eventHigh;
        sure = eventSure;
        address = eventAddress;
        face = eventFace;
        leaving = eventLeaving;
      } else {
        next = Math.min(next, eventLow);
      }
    }
    if (low >= limit) {
      return Answer.NO;
    }
    return sure && high < next && high < limit && face >= 0 ? Answer.YES : Answer.OPEN;
  }

  /** Whether any surface is met. */
  Answer isBlocked(Interval[] origin, Interval[] direction) {
    solids.cross(origin, direction);
    Answer answer = Answer.NO;
    for (Part object : objects) {
      findPlaces(object);
      int before = OPEN;
      for (int i = 0; i + 1 < placeCount; i++) {
        int here = places[i] == places[i + 1] ? before : at(object, i);
        if (here == OPEN && places[i] < places[i + 1]) {
          answer = Answer.OPEN;
        } else if (before != OPEN && here != before) {
          return Answer.YES;
        }
        before = here == OPEN ? before : here;
      }
    }
    return answer;
  }

  /** The ends that solids of an object may have, between the ray's start and the largest word. */
  private void findPlaces(Part object) {
    placeCount = 0;
    place(0);
    for (int at = object.from(); at < object.to(); at++) {
      if (program.at(at).kind().isSolid() && solids.possible[at]) {
        place(solids.entryLow[at]);
        place(solids.entryHigh[at]);
        place(solids.exitLow[at]);
        place(solids.exitHigh[at]);
      }
    }
    place(solids.longest());
    Arrays.sort(places, 0, placeCount);
  }

  private void place(double distance) {
    if (distance >= 0 && distance <= solids.longest()) {
      places[placeCount++] = distance;
    }
  }

  /** Finds an object's first event beyond the start; false without one. */
  private boolean findEvent(Part object) {
    findPlaces(object);
    int before = OPEN;
    double openFrom = -1; // where it became open, if it is
    for (int i = 0; i + 1 < placeCount; i++) {
      if (places[i] == places[i + 1]) {
        continue;
      }
      int here = at(object, i);
      if (here == OPEN) {
        openFrom = openFrom < 0 ? places[i] : openFrom;
        if (before == OPEN) {
          return event(false, 0, 0);
        }
      } else if (before == OPEN || (here == before && openFrom < 0)) {
        before = here;
      } else if (here == before) {
        return event(false, openFrom, places[i]); // there may be two ends, or none
      } else {
        return change(object, openFrom < 0 ? places[i] : openFrom, places[i]);
      }
    }
    return openFrom >= 0 && event(false, openFrom, solids.longest());
  }

  private boolean event(boolean sure, double from, double to) {
    eventSure = sure;
    eventLow = from;
    eventHigh = to;
    eventFace = 0;
    return true;
  }

  /** A change from sure to sure: whose end it is, if only one solid's may lie there. */
  private boolean change(Part object, double from, double to) {
    event(true, from, to);
    int ends = 0;
    for (int at = object.from(); at < object.to(); at++) {
      if (!program.at(at).kind().isSolid() || !solids.possible[at]) {
        continue;
      }
      if (solids.entryLow[at] <= to && solids.entryHigh[at] >= from) {
        ends++;
        eventLeaving = false;
        found(at, solids.entryLow[at], solids.entryHigh[at], solids.entryFace[at]);
      }
      if (solids.exitLow[at] <= to && solids.exitHigh[at] >= from) {
        ends++;
        eventLeaving = true;
        found(at, solids.exitLow[at], solids.exitHigh[at], solids.exitFace[at]);
      }
    }
    eventSure = ends == 1;
    eventLow = Math.min(eventLow, from);
    return true;
  }

  private void found(int at, double least, double greatest, int ofBox) {
    eventAddress = at;
    eventLow = Math.max(0, least);
    eventHigh = greatest;
    eventFace = ofBox;
    eventSure &= solids.sure[at];
  }

  /** Whether the object is there between a place and the next. */
  private int at(Part object, int place) {
    double from = places[place];
    double to = places[place + 1];
    int height = 0;
    for (int at = object.from(); at < object.to(); at++) {
      OperationKind kind = program.at(at).kind();
      if (kind.isSolid()) {
        stack[height++] = solid(at, from, to);
      } else if (kind.isCombination()) {
        height--;
        stack[height - 1] = combine(kind, stack[height - 1], stack[height]);
      }
    }
    return stack[0];
  }

  private int solid(int at, double from, double to) {
    if (!solids.possible[at] || to <= solids.entryLow[at] || from >= solids.exitHigh[at]) {
      return OUT;
    }
    boolean within = from >= solids.entryHigh[at] && to <= solids.exitLow[at];
    return solids.sure[at] && within ? IN : OPEN;
  }

  private static int combine(OperationKind kind, int left, int right) {
    return switch (kind) {
      case UNION -> not(both(not(left), not(right)));
      case INTERSECTION -> both(left, right);
      default -> both(left, not(right));
    };
  }

  private static int not(int value) {
    return value == OPEN ? OPEN : 1 - value;
  }

  private static int both(int left, int right) {
    return left == OUT || right == OUT ? OUT : left == IN && right == IN ? IN : OPEN;
  }
}
