package dev.plumbline.cases;

import dev.plumbline.models.program.Operation;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.span.SpanOperator;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.stimulus.RandomStream;
import java.util.ArrayList;
import java.util.List;

/**
 * Scene programs constructed to reach what programs by chance may miss: every order of operations,
 * every way in which two spans lie to each other, each state of a predictor, lists and stacks and
 * memories that are full, and a ray of as many cycles as the memory can give.
 *
 * <pre>{@code
 * for (DirectedScenes.Scene scene : DirectedScenes.of(formats, limits, 4, 16, chance).all()) { ... }
 * }</pre>
 *
 * <p>Axis, heading, places and materials are drawn; what a scene reaches does not depend on them.
 * Scenes that the limits have no room for are left out.
 */
public final class DirectedScenes {
  /**
   * Skips of the longest ray; a memory of more words has skips behind them that are passed over.
   */
  public static final int LONGEST = 2047;

  /** Operations of a program of several objects. */
  private static final int PACKED = 60;

  private static final List<OperationKind> SOLIDS =
      List.of(OperationKind.SPHERE, OperationKind.HALF_SPACE, OperationKind.BOX);

  private static final SpanOperator[] OPERATORS = SpanOperator.values();

  /** Two spans each: where they begin and end along the ray. */
  private static final int[][] PLACES = {
    {0, 1, 2, 3}, // one before the other
    {0, 1, 1, 2}, // they meet
    {0, 2, 1, 3}, // they overlap
    {0, 2, 1, 2}, // one contains the other, both end
    {0, 3, 1, 2}, // one contains the other
    {0, 1, 0, 2}, // both begin
    {0, 1, 0, 1} // both the same
  };

  private final SceneFormats formats;
  private final ProgramLimits limits;
  private final int spans;
  private final int entries;
  private final RandomStream chance;
  private final RayLine line;
  private final List<Scene> scenes = new ArrayList<>();
  private final List<List<Operation>> objects = new ArrayList<>();

  /**
   * A program with its rays.
   *
   * @param program one that keeps every rule
   * @param rays 1 to 16, in the program's formats; columns as long as there are rays
   */
  public record Scene(Program program, Rays rays) {}

  private DirectedScenes(
      SceneFormats formats, ProgramLimits limits, int spans, int entries, RandomStream chance) {
    this.formats = formats;
    this.limits = limits;
    this.spans = spans;
    this.entries = entries;
    this.chance = chance;
    this.line = new RayLine(formats, places(spans), chance);
  }

  /**
   * Scenes for an executor.
   *
   * @param formats of programs and rays
   * @param limits of programs
   * @param spans most spans of a list
   * @param entries of the predictor's table, chosen by the lowest bits of a skip's address; 1 or
   *     more, where there is no table as well
   * @param chance what they follow from
   * @return the scenes
   */
  public static DirectedScenes of(
      SceneFormats formats, ProgramLimits limits, int spans, int entries, RandomStream chance) {
    return new DirectedScenes(formats, limits, spans, entries, chance);
  }

  /**
   * The scenes in the order in which they are to be run; predictors learn from one to the next.
   *
   * @return about a hundred rays where the memory holds 60 operations, and 250 at most
   */
  public List<Scene> all() {
    scenes.clear();
    draw(this::control);
    draw(this::singles);
    if (limits.depth() > 1) {
      draw(this::orders);
      draw(this::sequences);
      draw(this::full);
    }
    draw(this::rays);
    draw(this::predictions);
    draw(this::memory);
    faces();
    return List.copyOf(scenes);
  }

  private static int places(int spans) {
    return 2 * spans + 6;
  }

  /**
   * How far apart the nearest surface and the farthest box of a scene are at least.
   *
   * @param formats of the scene
   * @param spans most spans of a list
   * @return codes of a word
   */
  public static long apart(SceneFormats formats, int spans) {
    return (places(spans) - 5L) * RayLine.gap(formats.word(), places(spans));
  }

  private void draw(Runnable group) {
    line.draw();
    group.run();
    pack();
  }

  /** Every operation between objects behind every other, by a ray that meets boxes and one not. */
  private void control() {
    List<Operation> skip = List.of(skip(1, true));
    for (List<List<Operation>> parts :
        List.of(
            List.<List<Operation>>of(),
            List.of(skip),
            List.of(skip, skip),
            List.of(skip, single()),
            List.of(single(), single()),
            List.of(single(), skip))) {
      List<Operation> operations = new ArrayList<>();
      for (List<Operation> part : parts) {
        for (Operation operation : part) {
          boolean skips = operation.kind() == OperationKind.SKIP;
          operations.add(skips ? skip(operations.size() + 1, true) : operation);
        }
      }
      scene(operations, line.meets(), line.passesBy());
    }
  }

  private void singles() {
    for (OperationKind kind : SOLIDS) {
      object(solid(kind));
    }
    object(line.everywhere(material()));
    object(box(0, 1)); // the same box twice: its surface is as near as itself
    object(box(0, 1));
  }

  /** Two lists in every order, under every operator. */
  private void orders() {
    for (SpanOperator operator : OPERATORS) {
      Operation combination = combination(operator);
      for (int[] place : PLACES) {
        Operation one = box(place[0], place[1]);
        Operation other = box(place[2], place[3]);
        object(one, other, combination);
        object(other, one, combination);
      }
      object(missed(), box(0, 1), combination);
      object(box(0, 1), missed(), combination);
      object(missed(), missed(), combination);
      if (spans > 1) {
        object(box(0, 1), box(2, 3), combination(SpanOperator.UNION), box(1, 4), combination);
      }
    }
    object(line.everywhere(material()), box(0, 1), combination(SpanOperator.DIFFERENCE));
  }

  /** Every operation behind every other within an object. */
  private void sequences() {
    for (int i = 0; i < SOLIDS.size(); i++) {
      for (int j = 0; j < SOLIDS.size(); j++) {
        Operation first = combination(OPERATORS[(i + j) % OPERATORS.length]);
        object(solid(SOLIDS.get(i)), solid(SOLIDS.get(j)), first);
        Operation then = combination(OPERATORS[i]);
        object(box(0, 1), box(1, 2), then, solid(SOLIDS.get(j)), combination(OPERATORS[j]));
        if (limits.depth() > 2) {
          object(box(0, 2), box(1, 3), box(1, 2), then, combination(OPERATORS[j]));
        }
      }
    }
  }

  /** A list with every span there is room for, one more than that, and the deepest stack. */
  private void full() {
    for (int count : new int[] {spans, spans + 1}) {
      List<Operation> row = new ArrayList<>();
      for (int i = 0; i < count; i++) {
        row.add(box(2 * i, 2 * i + 1));
        if (i > 0) {
          row.add(combination(SpanOperator.UNION));
        }
      }
      object(row.toArray(Operation[]::new));
    }
    List<Operation> stack = new ArrayList<>();
    for (int i = 0; i < limits.depth(); i++) {
      stack.add(box(0, 1));
    }
    for (int i = 1; i < limits.depth(); i++) {
      stack.add(combination(SpanOperator.UNION));
    }
    object(stack.toArray(Operation[]::new));
  }

  /** Rays that begin inside, and rays that end at any surface. */
  private void rays() {
    scene(wrapped(box(-1, 0)), line.meets());
    List<Operation> one = wrapped(box(1, 2));
    scene(
        one,
        line.meets().before(line.farthest()),
        line.meets().before(0),
        line.meets().nearerThan(0));
    List<Operation> hidden = new ArrayList<>(wrapped(box(0, 1)));
    int last = places(spans) - 1;
    hidden.add(Operation.skip(hidden.size() + 1, line.boxAt(last - 1, last)));
    scene(hidden, line.meets(), line.meets().nearerThan(0));
  }

  /** A box that is entered at each of its faces. */
  private void faces() {
    for (int axis = 0; axis < 3; axis++) {
      for (int heading = 0; heading < 2; heading++) {
        line.draw(axis, heading);
        scene(wrapped(box(0, 1)), line.meets());
      }
    }
  }

  /** A skip that is taken, not taken and taken again, each until a counter has no farther to go. */
  private void predictions() {
    RayLine.Ray[] rays = new RayLine.Ray[12];
    for (int i = 0; i < rays.length; i++) {
      rays[i] = i / 4 == 1 ? line.meets() : line.passesBy();
    }
    scene(List.of(skip(1, true)), rays);
  }

  /**
   * All the memory: skips to the next one, taken or not so that a counter that learns from them is
   * wrong as often as can be.
   */
  private void memory() {
    int length = limits.length() - 1;
    int visited = Math.min(length, LONGEST);
    List<Operation> operations = new ArrayList<>();
    for (int i = 0; i < length; i++) {
      boolean last = i >= visited - 1;
      operations.add(skip(last ? length : i + 1, !isTaken(i, last)));
    }
    scene(operations, line.meets());
  }

  /** Taken until a counter of two bits is full whatever it was, then against what it says. */
  private boolean isTaken(int address, boolean last) {
    int visit = address / entries;
    return last || visit < 3 || (visit > 4 && visit % 2 == 1);
  }

  private int material() {
    return chance.below(limits.materials());
  }

  private Operation solid(OperationKind kind) {
    int from = chance.below(3);
    return line.solid(kind, from, from + 1 + chance.below(2), material());
  }

  private Operation box(int from, int to) {
    return line.solid(OperationKind.BOX, from, to, material());
  }

  private Operation missed() {
    return line.missed(material());
  }

  /** A skip whose box lies on the line of rays, or beside all of them. */
  private Operation skip(int target, boolean met) {
    return Operation.skip(target, met ? line.boxAt(0, 1) : line.boxBeside());
  }

  private static Operation combination(SpanOperator operator) {
    return Operation.of(OperationKind.of(operator));
  }

  private List<Operation> single() {
    return wrapped(box(0, 1));
  }

  private static List<Operation> wrapped(Operation... within) {
    List<Operation> object = new ArrayList<>();
    object.add(Operation.of(OperationKind.BEGIN));
    object.addAll(List.of(within));
    object.add(Operation.of(OperationKind.CLOSE));
    return object;
  }

  private void object(Operation... within) {
    objects.add(wrapped(within));
  }

  /** Puts objects into programs, as many as go into one. */
  private void pack() {
    int most = Math.min(PACKED, limits.length() - 1);
    List<Operation> program = new ArrayList<>();
    for (List<Operation> object : objects) {
      if (!program.isEmpty() && program.size() + object.size() > most) {
        scene(program, line.meets());
        program = new ArrayList<>();
      }
      program.addAll(object);
    }
    if (!program.isEmpty()) {
      scene(program, line.meets());
    }
    objects.clear();
  }

  /** Ends a program and keeps it with its rays, if there is room for it. */
  private void scene(List<Operation> operations, RayLine.Ray... offered) {
    if (operations.size() + 1 > limits.length()) {
      return;
    }
    List<Operation> ended = new ArrayList<>(operations);
    ended.add(Operation.of(OperationKind.END));
    Rays rays = Rays.of(formats, offered.length);
    for (int i = 0; i < offered.length; i++) {
      offered[i].put(rays, i);
    }
    scenes.add(new Scene(Program.of(formats, limits, ended), rays));
  }
}
