package dev.plumbline.models.traversal;

import dev.plumbline.models.datapath.BitEvaluation;
import dev.plumbline.models.datapath.BoundsEvaluation;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.IdealEvaluation;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.program.Operation;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.span.Distances;
import java.util.List;
import java.util.function.DoubleToLongFunction;
import java.util.function.IntConsumer;
import java.util.function.IntFunction;
import java.util.function.IntPredicate;
import java.util.function.IntToLongFunction;
import java.util.function.IntUnaryOperator;

/** The operations of a program that one unit evaluates, for several rays at a time. */
final class SolidColumns {
  /**
   * How a unit is run and what it gives.
   *
   * @param inputs the column of each operand
   * @param run evaluates so many cases
   * @param ends one set; in bounds the least and the greatest
   */
  record Evaluation(IntFunction<long[]> inputs, IntConsumer run, List<Ends> ends) {}

  /** The span of each case, empty where entry is not below exit, and the faces at its ends. */
  record Ends(
      IntToLongFunction entry,
      IntToLongFunction exit,
      IntUnaryOperator entryFace,
      IntUnaryOperator exitFace,
      IntPredicate hit) {}

  private final List<Operand> inputs;
  private final Evaluation evaluation;
  private int[] addresses = new int[0];

  SolidColumns(Datapath unit, Evaluation evaluation) {
    this.inputs = unit.inputs();
    this.evaluation = evaluation;
  }

  /** Which operations are this unit's, and how many of them there are. */
  int find(Program program, SceneUnits units, Datapath unit) {
    int[] found = new int[program.length()];
    int count = 0;
    for (int address = 0; address < program.length(); address++) {
      if (units.of(program.at(address).kind()) == unit) {
        found[count++] = address;
      }
    }
    addresses = java.util.Arrays.copyOf(found, count);
    return count;
  }

  /** Fills the columns of the operations' own operands, over and over for each ray. */
  void load(Program program, int rays) {
    for (int i = 0; i < inputs.size(); i++) {
      String name = inputs.get(i).name();
      if (Rays.names().contains(name)) {
        continue;
      }
      long[] column = evaluation.inputs().apply(i);
      for (int k = 0; k < addresses.length; k++) {
        Operation operation = program.at(addresses[k]);
        long code = operation.operand(operation.kind().operands().indexOf(name));
        for (int ray = 0; ray < rays; ray++) {
          column[ray * addresses.length + k] = code;
        }
      }
    }
  }

  /** Evaluates rays; the span of an address goes to {@code ray * length + address}. */
  void run(Rays rays, int from, int count, int length, EndColumns[] into) {
    int n = addresses.length;
    if (n == 0) {
      return;
    }
    for (int i = 0; i < inputs.size(); i++) {
      String name = inputs.get(i).name();
      if (Rays.names().contains(name)) {
        long[] column = evaluation.inputs().apply(i);
        long[] source = rays.column(name);
        for (int ray = 0; ray < count; ray++) {
          java.util.Arrays.fill(column, ray * n, ray * n + n, source[from + ray]);
        }
      }
    }
    evaluation.run().accept(n * count);
    for (int set = 0; set < into.length; set++) {
      Ends ends = evaluation.ends().get(set);
      EndColumns columns = into[set];
      for (int ray = 0; ray < count; ray++) {
        for (int k = 0; k < n; k++) {
          int to = ray * length + addresses[k];
          int i = ray * n + k;
          columns.entry[to] = ends.entry().applyAsLong(i);
          columns.exit[to] = ends.exit().applyAsLong(i);
          columns.entryFace[to] = ends.entryFace().applyAsInt(i);
          columns.exitFace[to] = ends.exitFace().applyAsInt(i);
          columns.hit[to] = ends.hit().test(i);
        }
      }
    }
  }

  private static int output(Datapath unit, String name) {
    int output = find(unit, name);
    if (output >= 0) {
      return output;
    }
    throw new IllegalArgumentException(
        "Unit \""
            + unit.name()
            + "\" without result \""
            + name
            + "\": there are "
            + unit.outputs()
            + "; give it one.");
  }

  /** The index of a result; -1 when there is none. */
  private static int find(Datapath unit, String name) {
    for (int i = 0; i < unit.outputs().size(); i++) {
      if (unit.outputs().get(i).name().equals(name)) {
        return i;
      }
    }
    return -1;
  }

  static boolean hasStep(Datapath unit, String name) {
    return unit.steps().stream().anyMatch(step -> step.name().equals(name));
  }

  /** Only a sphere may be missed by its line with distances given all the same. */
  static boolean hasMeets(Datapath unit) {
    return hasStep(unit, "meets");
  }

  private static String[] meets(Datapath unit) {
    return hasMeets(unit) ? new String[] {"meets"} : new String[0];
  }

  static Evaluation bits(Datapath unit, int capacity) {
    return bits(unit, capacity, hasMeets(unit));
  }

  /** The same with the distances of spheres that are missed, or whose radius is negative. */
  static Evaluation bitsWhetherMet(Datapath unit, int capacity) {
    return bits(unit, capacity, false);
  }

  private static Evaluation bits(Datapath unit, int capacity, boolean asMet) {
    String[] steps = asMet ? meets(unit) : new String[0];
    BitEvaluation e = BitEvaluation.ofOutputs(unit, capacity, steps);
    long[] entry = e.output(output(unit, "entry"), 0);
    long[] exit = e.output(output(unit, "exit"), 0);
    long[] hit = e.output(output(unit, "hit"), 0);
    long[] meets = asMet ? e.step("meets", 0) : null;
    Ends ends =
        new Ends(
            i -> entry[i],
            i -> meets == null || meets[i] == 1 ? exit[i] : Long.MIN_VALUE,
            face(unit, "entry_face", e),
            face(unit, "exit_face", e),
            i -> hit[i] == 1);
    return new Evaluation(operand -> e.input(operand, 0), e::run, List.of(ends));
  }

  private static IntUnaryOperator face(Datapath unit, String name, BitEvaluation e) {
    int output = find(unit, name);
    if (output < 0) {
      return i -> 0;
    }
    long[] face = e.output(output, 0);
    return i -> (int) face[i];
  }

  /** Distances in the order of reals; those at the ends of the word are for ever. */
  static Evaluation ideal(Datapath unit, int capacity, Distances reals) {
    IdealEvaluation e = unit.ideal(capacity);
    double[] entry = e.output(output(unit, "entry"));
    double[] exit = e.output(output(unit, "exit"));
    double[] hit = e.output(output(unit, "hit"));
    double[] meets = hasMeets(unit) ? e.step("meets") : null;
    var word = unit.outputs().get(output(unit, "entry")).format();
    double lowest = word.toReal(word.minCode());
    double highest = word.toReal(word.maxCode());
    DoubleToLongFunction distance =
        real ->
            real <= lowest ? reals.lowest() : real >= highest ? reals.highest() : reals.of(real);
    Ends ends =
        new Ends(
            i -> distance.applyAsLong(entry[i]),
            i -> meets == null || meets[i] == 1 ? distance.applyAsLong(exit[i]) : Long.MIN_VALUE,
            face(unit, "entry_face", e),
            face(unit, "exit_face", e),
            i -> hit[i] == 1);
    return new Evaluation(operand -> e.input(operand, 0), e::run, List.of(ends));
  }

  private static IntUnaryOperator face(Datapath unit, String name, IdealEvaluation e) {
    int output = find(unit, name);
    if (output < 0) {
      return i -> 0;
    }
    double[] face = e.output(output);
    return i -> (int) face[i];
  }

  /**
   * The least ends, with hit where it must be, then the greatest, with hit where it may be; both
   * with the sets of faces that may be there, face 0 of a unit without faces. A hit of a sphere is
   * its line's, behind the origin too; that of a box is a culling box's, whose margin may be as
   * many LSB as given.
   */
  static Evaluation bounds(Datapath unit, int capacity, int margin) {
    boolean hasFaces = find(unit, "entry_face") >= 0;
    String[] steps = hasFaces ? AdmissibleFaces.steps(unit) : meets(unit);
    BoundsEvaluation e = BoundsEvaluation.ofOutputs(unit, capacity, steps);
    int hit = output(unit, "hit");
    long[] leastEntry = e.low(output(unit, "entry"), 0);
    long[] leastExit = e.low(output(unit, "exit"), 0);
    long[] entry = e.high(output(unit, "entry"), 0);
    long[] exit = e.high(output(unit, "exit"), 0);
    boolean meets = hasMeets(unit);
    long[] must = meets ? e.stepLow("meets", 0) : e.low(hit, 0);
    long[] may = meets ? e.stepHigh("meets", 0) : null;
    AdmissibleFaces faces = hasFaces ? AdmissibleFaces.of(e) : null;
    IntUnaryOperator entryFaces = faces == null ? i -> 1 : faces::ofEntry;
    IntUnaryOperator exitFaces = faces == null ? i -> 1 : faces::ofExit;
    Ends least =
        new Ends(i -> leastEntry[i], i -> leastExit[i], entryFaces, exitFaces, i -> must[i] == 1);
    Ends most =
        new Ends(
            i -> entry[i],
            i -> exit[i],
            entryFaces,
            exitFaces,
            i -> may == null ? isNear(leastEntry[i], exit[i], margin) : may[i] == 1);
    return new Evaluation(operand -> e.input(operand, 0), e::run, List.of(least, most));
  }

  /** Whether a box may count as hit. */
  private static boolean isNear(long entry, long exit, int margin) {
    long gap = entry - exit; // it may overflow where they are in order
    return exit >= -margin && (entry <= exit || (0 <= gap && gap <= margin));
  }
}
