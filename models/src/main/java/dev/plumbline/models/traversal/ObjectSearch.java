package dev.plumbline.models.traversal;

import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.span.Distances;
import dev.plumbline.models.span.SpanList;
import java.util.Arrays;

/**
 * Which surface of one object may be a ray's nearest, when the ends of its solids are known within
 * intervals only.
 *
 * <p>The line beyond the start is cut at the ends of all intervals. In what lies between two cuts,
 * and at each cut, a solid is in one of three phases: not yet entered, inside, left for good; an
 * empty one has been left from the start. The search carries all combinations of phases that some
 * choice of ends gives and that leave the object's membership as it was at the start: what changes
 * it is a hit. Between cuts ends come one by one, since any surface that is seen with several at
 * one distance is also seen with one of them alone, the others moved a little; at a cut they may
 * have to come together, and then the rule of {@link SpanList} decides whose surface is there.
 */
final class ObjectSearch {
  /** The distance beyond all others: there need not be any surface. */
  static final long NEVER = Long.MAX_VALUE;

  /** Changes of phase that are tried for one object and ray. */
  private static final int MOST_TRIED = 1 << 14;

  /** Two bits each in a long. */
  private static final int MOST_SOLIDS = 31;

  private static final int OUT = -1;
  private static final int IN = -2;
  private static final long BEFORE = 0;
  private static final long INSIDE = 1;
  private static final long AFTER = 2;

  private final long highest;
  private AdmissibleHits hits;
  private Program program;
  private EndColumns low;
  private EndColumns high;
  private int base;
  private int begin;
  private int close;
  private int firstHit;
  private int tried;

  private int[] slot = new int[0]; // by address: of a solid with an open phase, OUT or IN
  private final int[] solids = new int[MOST_SOLIDS]; // by slot: index of its ends
  private final boolean[] mayBeEmpty = new boolean[MOST_SOLIDS];
  private int open;
  private long[] cuts = new long[0];
  private int cutCount;
  private PhaseSet now = new PhaseSet();
  private PhaseSet next = new PhaseSet();
  private boolean[] was = new boolean[0];
  private boolean[] is = new boolean[0];
  private int[] surfaces = new int[0];

  ObjectSearch(Distances distances) {
    this.highest = distances.highest();
  }

  /** Takes the program and where the least and the greatest ends will stand. */
  void prepare(Program of, EndColumns least, EndColumns greatest) {
    program = of;
    low = least;
    high = greatest;
    if (slot.length < of.length()) {
      slot = new int[of.length()];
      cuts = new long[4 * of.length()];
    }
    int depth = of.limits().depth();
    if (was.length < depth) {
      was = new boolean[depth];
      is = new boolean[depth];
      surfaces = new int[depth];
    }
  }

  /**
   * Adds the hits of the object between two addresses to those known.
   *
   * @param ends index of address 0 among the ends
   * @return the farthest that its nearest surface may be; {@link #NEVER} when there may be none
   */
  long run(int beginAt, int closeAt, int ends, long start, AdmissibleHits into) {
    begin = beginAt;
    close = closeAt;
    base = ends;
    hits = into;
    firstHit = into.count();
    tried = 0;
    if (!classify(start)) {
      return giveUp(start);
    }
    if (open == 0) {
      return NEVER;
    }
    cut(start);
    begin(start);
    long from = start;
    for (int i = 0; i <= cutCount; i++) {
      long to = i < cutCount ? cuts[i] : highest;
      between(from, to);
      if (i < cutCount) {
        at(to);
      }
      if (tried > MOST_TRIED) {
        return giveUp(start);
      }
      if (now.size() == 0) {
        return to;
      }
      from = to;
    }
    return NEVER;
  }

  /** Notes which ways a skip may go. */
  void skip(int address, int ends, AdmissibleHits into) {
    into.mayTake[address] = !low.hit[ends + address];
    into.mayPass[address] = high.hit[ends + address];
  }

  /** Decided solids keep their membership all along; false when too many are open. */
  private boolean classify(long start) {
    open = 0;
    for (int address = begin + 1; address < close; address++) {
      OperationKind kind = program.at(address).kind();
      if (!kind.isSolid()) {
        continue;
      }
      int i = base + address;
      boolean sphere = kind == OperationKind.SPHERE;
      boolean missed = sphere && !high.hit[i];
      boolean empty = (sphere && !low.hit[i]) || high.entry[i] >= low.exit[i];
      if (missed || high.exit[i] <= start || low.entry[i] >= high.exit[i]) {
        slot[address] = OUT;
      } else if (!empty && high.entry[i] <= start && low.exit[i] == highest) {
        slot[address] = IN;
      } else if (open == MOST_SOLIDS) {
        return false;
      } else {
        solids[open] = i;
        mayBeEmpty[open] = empty;
        slot[address] = open++;
      }
    }
    return true;
  }

  private void cut(long start) {
    cutCount = 0;
    for (int k = 0; k < open; k++) {
      int i = solids[k];
      cut(start, low.entry[i]);
      cut(start, high.entry[i]);
      cut(start, low.exit[i]);
      cut(start, high.exit[i]);
    }
    Arrays.sort(cuts, 0, cutCount);
    int kept = 0;
    for (int k = 0; k < cutCount; k++) {
      if (kept == 0 || cuts[k] != cuts[kept - 1]) {
        cuts[kept++] = cuts[k];
      }
    }
    cutCount = kept;
  }

  private void cut(long start, long distance) {
    if (distance > start && distance < highest) {
      cuts[cutCount++] = distance;
    }
  }

  /** Every combination of phases just beyond the start. */
  private void begin(long start) {
    now.clear();
    now.add(0);
    for (int k = 0; k < open; k++) {
      int i = solids[k];
      next.clear();
      for (int s = 0; s < now.size() && tried <= MOST_TRIED; s++) {
        tried++;
        if (high.entry[i] > start) {
          next.add(with(now.get(s), k, BEFORE));
        }
        if (low.entry[i] <= start) {
          next.add(with(now.get(s), k, INSIDE));
        }
        if (mayBeEmpty[k] || low.exit[i] <= start) {
          next.add(with(now.get(s), k, AFTER));
        }
      }
      swap();
    }
  }

  private void swap() {
    PhaseSet set = now;
    now = next;
    next = set;
  }

  private static long phase(long phases, int k) {
    return (phases >> (2 * k)) & 3;
  }

  private static long with(long phases, int k, long phase) {
    return (phases & ~(3L << (2 * k))) | (phase << (2 * k));
  }

  /** Everything that may happen between two cuts, one end after the other. */
  private void between(long from, long to) {
    for (int s = 0; s < now.size() && tried <= MOST_TRIED; s++) {
      long phases = now.get(s);
      for (int k = 0; k < open; k++) {
        int i = solids[k];
        long phase = phase(phases, k);
        // What has to come sooner came at an earlier cut.
        boolean may =
            phase == BEFORE ? low.entry[i] <= from : phase == INSIDE && low.exit[i] <= from;
        if (may) {
          change(phases, with(phases, k, phase + 1), from, to, now);
        }
      }
    }
  }

  /** Everything that may happen at a cut, all at once; what cannot go on is dropped. */
  private void at(long cut) {
    next.clear();
    for (int s = 0; s < now.size(); s++) {
      at(cut, now.get(s), now.get(s), 0);
    }
    swap();
  }

  private void at(long cut, long before, long after, int from) {
    if (tried > MOST_TRIED) {
      return;
    }
    for (int k = from; k < open; k++) {
      int i = solids[k];
      long phase = phase(before, k);
      if (phase == AFTER) {
        continue;
      }
      boolean may =
          phase == BEFORE ? low.entry[i] <= cut && cut < high.exit[i] : low.exit[i] <= cut;
      boolean mayWait = cut < high.exit[i] && (phase == INSIDE || cut < high.entry[i]);
      if (may) {
        at(cut, before, with(after, k, phase + 1), k + 1);
      }
      if (!mayWait) {
        return;
      }
    }
    change(before, after, cut, cut, next);
  }

  /** Keeps the phases when the object's membership stays, a hit when it changes. */
  private void change(long before, long after, long from, long to, PhaseSet into) {
    tried++;
    int height = 0;
    for (int address = begin + 1; address < close; address++) {
      OperationKind kind = program.at(address).kind();
      if (kind.isSolid()) {
        was[height] = isIn(slot[address], before);
        is[height] = isIn(slot[address], after);
        surfaces[height++] = address;
      } else {
        int right = --height;
        int left = right - 1;
        if (was[left] == is[left]) {
          surfaces[left] = surfaces[right];
        }
        was[left] = kind.operator().contains(was[left], was[right]);
        is[left] = kind.operator().contains(is[left], is[right]);
      }
    }
    if (was[0] == is[0]) {
      into.add(after);
    } else {
      hits.add(firstHit, AdmissibleHits.place(surfaces[0], was[0]), from, to);
    }
  }

  private static boolean isIn(int slot, long phases) {
    return slot >= 0 ? phase(phases, slot) == INSIDE : slot == IN;
  }

  /** Admits whatever the intervals of the ends allow. */
  private long giveUp(long start) {
    hits.truncate(firstHit);
    hits.complete = false;
    for (int address = begin + 1; address < close; address++) {
      if (program.at(address).kind().isSolid()) {
        int i = base + address;
        boolean isReversed = hits.reversed[address];
        surface(AdmissibleHits.place(address, isReversed), low.entry[i], high.entry[i], start);
        surface(AdmissibleHits.place(address, !isReversed), low.exit[i], high.exit[i], start);
      }
    }
    return NEVER;
  }

  private void surface(int place, long least, long greatest, long start) {
    if (greatest > start && least < highest) {
      hits.add(firstHit, place, Math.max(least, start), Math.min(greatest, highest));
    }
  }
}
