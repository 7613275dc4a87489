package dev.plumbline.models.traversal;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;

/**
 * An executor cycle by cycle, wrong paths included, as the words of {@link Pace} have it: it
 * fetches, dispatches, drops and retires, and knows nothing of what will have been right.
 */
final class TickedExecutor {
  /** An operation that takes so many cycles to retire, or a skip with its outcomes. */
  record Step(int cost, int target, boolean early, boolean taken) {
    boolean isSkip() {
      return target > 0;
    }
  }

  /** A dispatched operation. */
  private record Flight(int address, long dispatched, boolean predicted) {}

  private record Lesson(long retired, int address, boolean taken) {}

  private final Pace pace;
  private final Predictor predictor;
  private final List<Lesson> lessons = new ArrayList<>();
  private List<Flight> flights = new ArrayList<>();
  private List<Step> program;
  private int pc; // -1 where nothing is to be fetched
  private long dispatchFrom;
  private long lastRetired;
  long right;
  long wrong;

  TickedExecutor(Pace pace, Predictor predictor) {
    this.pace = pace;
    this.predictor = predictor;
  }

  /** Steps and skips over some of them; of a skip, what the box says and what is found at last. */
  static List<Step> program(Random random) {
    int length = 1 + random.nextInt(40);
    List<Step> program = new ArrayList<>();
    for (int at = 0; at < length; at++) {
      boolean skip = at < length - 1 && random.nextInt(3) == 0;
      boolean early = random.nextBoolean();
      int target = skip ? at + 1 + random.nextInt(Math.min(8, length - at - 1)) : 0;
      int cost = random.nextInt(4) == 0 ? 1 + random.nextInt(6) : 1;
      program.add(new Step(skip ? 1 : cost, target, early, early || random.nextInt(3) == 0));
    }
    return program;
  }

  /** When the operations of a ray retire, in their order. */
  List<Long> run(List<Step> steps) {
    program = steps;
    flights = new ArrayList<>();
    lessons.forEach(lesson -> predictor.update(lesson.address(), lesson.taken()));
    lessons.clear();
    pc = 0;
    dispatchFrom = 2;
    lastRetired = -1;
    right = 0;
    wrong = 0;
    List<Long> retired = new ArrayList<>();
    int last = -1;
    for (long cycle = 0; last != program.size() - 1; cycle++) {
      boolean room = flights.size() < pace.queue();
      learn(cycle);
      int address = retire(cycle);
      if (address >= 0) {
        retired.add(cycle);
        last = address;
      }
      decide(cycle);
      if (room && pc >= 0 && cycle >= dispatchFrom) {
        dispatch(cycle);
      }
    }
    return retired;
  }

  private void learn(long cycle) {
    while (!lessons.isEmpty() && lessons.get(0).retired() + pace.learning() <= cycle) {
      Lesson lesson = lessons.remove(0);
      predictor.update(lesson.address(), lesson.taken());
    }
  }

  /** The address of the operation that retires in a cycle; -1 for none. */
  private int retire(long cycle) {
    if (flights.isEmpty()) {
      return -1;
    }
    Flight oldest = flights.get(0);
    Step step = program.get(oldest.address());
    long arrival = oldest.dispatched() + pace.latency();
    if (cycle != Math.max(arrival, lastRetired + 1) + step.cost() - 1) {
      return -1;
    }
    lastRetired = cycle;
    flights.remove(0);
    if (step.isSkip()) {
      boolean right = oldest.predicted() == step.taken();
      this.right += right ? 1 : 0;
      wrong += right ? 0 : 1;
      lessons.add(new Lesson(cycle, oldest.address(), step.taken()));
      boolean thought = pace.decision() > 0 ? step.early() : oldest.predicted();
      if (thought != step.taken()) {
        flights.clear();
        pc = step.taken() ? step.target() : oldest.address() + 1;
        dispatchFrom = cycle + pace.flush();
      }
    }
    return oldest.address();
  }

  private void decide(long cycle) {
    for (int i = 0; pace.decision() > 0 && i < flights.size(); i++) {
      Flight flight = flights.get(i);
      Step step = program.get(flight.address());
      boolean now = step.isSkip() && flight.dispatched() + pace.decision() == cycle;
      if (now && step.early() != flight.predicted()) {
        flights.subList(i + 1, flights.size()).clear();
        pc = step.early() ? step.target() : flight.address() + 1;
        dispatchFrom = cycle + pace.redirection();
      }
    }
  }

  private void dispatch(long cycle) {
    Step step = program.get(pc);
    boolean predicted = step.isSkip() && predictor.predict(pc);
    flights.add(new Flight(pc, cycle, predicted));
    dispatchFrom = cycle + (predicted ? 2 : 1);
    pc = predicted ? step.target() : pc + 1;
    pc = pc < program.size() ? pc : -1;
  }
}
