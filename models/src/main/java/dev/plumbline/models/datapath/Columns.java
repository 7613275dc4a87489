package dev.plumbline.models.datapath;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;

/** The lanes of one evaluation: one for each value, and a few to work in. */
final class Columns {
  private final Datapath datapath;
  private final int capacity;
  private final Lane[] lanes;
  private final Lane[] narrowScratch = new Lane[6];
  private final Lane[] wideScratch = new Lane[6];
  private final long[][] spare = new long[2][];
  private final double[][] reals = new double[4][];
  private final Set<Lane> lent = new HashSet<>(); // by identity: lanes know no equality
  private final Deque<Lane> narrowFree = new ArrayDeque<>();
  private final Deque<Lane> wideFree = new ArrayDeque<>();
  private Loop[] loops;
  private final Map<String, Columns> nested = new LinkedHashMap<>();

  Columns(Datapath datapath, int capacity) {
    this.datapath = datapath;
    this.capacity = capacity;
    this.lanes = new Lane[datapath.values().size()];
  }

  Datapath datapath() {
    return datapath;
  }

  /** Loops of all steps by index, once they are bound. */
  Loop[] loops() {
    return loops;
  }

  /** The lanes inside a unit. */
  Columns nested(String name) {
    return nested.get(name);
  }

  /** Room for the codes of a case, for whoever runs alone. */
  long[] spare(int word) {
    if (spare[word] == null) {
      spare[word] = new long[capacity];
    }
    return spare[word];
  }

  /** Reals to work in; another step may use the same in its turn. */
  double[] reals(int i) {
    if (reals[i] == null) {
      reals[i] = new double[capacity];
    }
    return reals[i];
  }

  int capacity() {
    return capacity;
  }

  Lane lane(Value value) {
    return lanes[value.index()];
  }

  void share(Value value, Lane lane) {
    lanes[value.index()] = lane;
  }

  /** Gives the value a lane of its own, or its operand's where the columns are the same. */
  void allocate(Value value) {
    Value same = value.step().sameColumns();
    if (same != null) {
      share(value, lane(same));
      return;
    }
    Lane lane = new Lane(capacity, value.wide());
    if (value.step() instanceof Constant constant) {
      lane.fill(constant.code());
    }
    share(value, lane);
  }

  /** Gives the value a lane for as long as it needs one. */
  void allocate(Value value, Lifetimes lifetimes) {
    if (lifetimes.endless(value) || value.step().sameColumns() != null) {
      allocate(value);
      return;
    }
    Deque<Lane> free = value.wide() ? wideFree : narrowFree;
    Lane lane = free.isEmpty() ? new Lane(capacity, value.wide()) : free.pop();
    lent.add(lane);
    share(value, lane);
  }

  /** Takes back the lane that was given for a while; the value can no longer be read. */
  void giveBack(Value value) {
    Lane lane = lane(value);
    share(value, null);
    if (lent.remove(lane)) {
      (lane.wide() ? wideFree : narrowFree).push(lane);
    }
  }

  /** A lane to work in; another step may use the same one in its turn. */
  Lane scratch(int i, boolean wide) {
    Lane[] scratch = wide ? wideScratch : narrowScratch;
    if (scratch[i] == null) {
      scratch[i] = new Lane(capacity, wide);
    }
    return scratch[i];
  }

  /** Makes lanes for every value that has none yet and binds all steps to them. */
  Loop[] bindBits() {
    List<Value> values = datapath.values();
    loops = new Loop[values.size()];
    for (Value value : values) {
      if (lane(value) == null) {
        allocate(value);
      }
      loops[value.index()] = value.step().bits(this, value);
    }
    return loops;
  }

  void nest(String name, Columns columns) {
    nested.put(name, columns);
  }

  /** The lane of a step by name; "unit.step" reaches into a unit. */
  Lane find(String name) {
    int dot = name.indexOf('.');
    if (dot >= 0 && nested.containsKey(name.substring(0, dot))) {
      return nested.get(name.substring(0, dot)).find(name.substring(dot + 1));
    }
    Lane lane = lane(datapath.value(name));
    if (lane == null) {
      throw new DatapathException(
          "Step \""
              + name
              + "\" of "
              + datapath.title()
              + ": this evaluation keeps outputs and the steps that were named when it was made;"
              + " name it too, or ask the datapath for an evaluation that keeps all");
    }
    return lane;
  }

  /** The lanes that a step stands among: those inside a unit for "unit.step". */
  Columns owner(String name) {
    int dot = name.indexOf('.');
    return dot >= 0 && nested.containsKey(name.substring(0, dot))
        ? nested.get(name.substring(0, dot)).owner(name.substring(dot + 1))
        : this;
  }

  /** The value behind a name that {@link #find} takes. */
  Value value(String name) {
    int dot = name.indexOf('.');
    if (dot >= 0 && nested.containsKey(name.substring(0, dot))) {
      return nested.get(name.substring(0, dot)).value(name.substring(dot + 1));
    }
    return datapath.value(name);
  }
}
