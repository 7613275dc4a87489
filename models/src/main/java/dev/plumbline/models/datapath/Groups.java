package dev.plumbline.models.datapath;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.BitSet;
import java.util.Comparator;
import java.util.List;
import java.util.PriorityQueue;
import java.util.stream.Collectors;

/**
 * The steps of a datapath with registers in an order in which each can be had for many cases at
 * once, but for those of a loop: steps that depend on what a register holds and from which it takes
 * its next value stand in one group, since they can only be evaluated case by case. A register that
 * is in no loop, as a tap is, has a group of its own.
 */
final class Groups {
  private final List<Value> values;
  private final int[] groupOf; // by value
  private final List<List<Value>> groups = new ArrayList<>();

  private Groups(Datapath datapath) {
    this.values = datapath.values();
    this.groupOf = new int[values.size()];
    Arrays.fill(groupOf, -1);
    for (Value register : datapath.registers()) {
      BitSet loop = reached(register, true);
      loop.and(reached(register, false));
      loop.set(register.index());
      add(register, loop);
    }
    for (Value value : values) {
      BitSet alone = new BitSet();
      alone.set(value.index());
      add(value, alone);
    }
  }

  private void add(Value first, BitSet members) {
    if (groupOf[first.index()] < 0) {
      members.stream().forEach(member -> groupOf[member] = groups.size());
      groups.add(members.stream().mapToObj(values::get).collect(Collectors.toList()));
    }
  }

  /** Groups in the order of evaluation; within a group values are in that of their description. */
  static List<List<Value>> of(Datapath datapath) {
    return new Groups(datapath).inOrder();
  }

  /** What the values of a group are made from, besides each other. */
  static List<Value> sources(List<Value> group) {
    return group.stream()
        .flatMap(value -> sources(value).stream())
        .filter(source -> !group.contains(source))
        .distinct()
        .toList();
  }

  private static List<Value> sources(Value value) {
    return value.step() instanceof RegisterStep register
        ? register.sources()
        : value.step().operands();
  }

  /** What depends on a value, or what it depends on; the value itself where it is in a loop. */
  private BitSet reached(Value from, boolean forward) {
    List<List<Value>> next = new ArrayList<>();
    values.forEach(value -> next.add(new ArrayList<>()));
    for (Value value : values) {
      for (Value source : sources(value)) {
        next.get(forward ? source.index() : value.index()).add(forward ? value : source);
      }
    }
    BitSet reached = new BitSet();
    List<Value> open = new ArrayList<>(List.of(from));
    while (!open.isEmpty()) {
      for (Value value : next.get(open.remove(open.size() - 1).index())) {
        if (!reached.get(value.index())) {
          reached.set(value.index());
          open.add(value);
        }
      }
    }
    return reached;
  }

  /** Each behind what it is made from; of several that could be next the one described first. */
  private List<List<Value>> inOrder() {
    List<BitSet> needs = new ArrayList<>();
    PriorityQueue<Integer> ready =
        new PriorityQueue<>(Comparator.comparing(group -> groups.get(group).get(0).index()));
    for (int group = 0; group < groups.size(); group++) {
      BitSet needed = new BitSet();
      sources(groups.get(group)).forEach(source -> needed.set(groupOf[source.index()]));
      needs.add(needed);
      if (needed.isEmpty()) {
        ready.add(group);
      }
    }
    List<List<Value>> order = new ArrayList<>();
    while (!ready.isEmpty()) {
      int done = ready.remove();
      order.add(groups.get(done));
      for (int group = 0; group < groups.size(); group++) {
        if (needs.get(group).get(done)) {
          needs.get(group).clear(done);
          if (needs.get(group).isEmpty()) {
            ready.add(group);
          }
        }
      }
    }
    return order;
  }
}
