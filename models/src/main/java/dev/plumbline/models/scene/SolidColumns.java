package dev.plumbline.models.scene;

import dev.plumbline.models.datapath.BitEvaluation;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.IdealEvaluation;
import dev.plumbline.models.datapath.Operand;
import java.util.List;

/** The operations of a program that one unit evaluates, for several rays at a time. */
final class SolidColumns {
  /** How a unit is run and what it gives. */
  interface Evaluation {
    long[] input(int operand);

    void run(int count);

    /** The span of a case; empty where entry is not below exit. */
    long entry(int i);

    long exit(int i);

    boolean hit(int i);
  }

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
      long[] column = evaluation.input(i);
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
  void run(Rays rays, int from, int count, int length, long[] entry, long[] exit, boolean[] hit) {
    int n = addresses.length;
    if (n == 0) {
      return;
    }
    for (int i = 0; i < inputs.size(); i++) {
      String name = inputs.get(i).name();
      if (Rays.names().contains(name)) {
        long[] column = evaluation.input(i);
        long[] source = rays.column(name);
        for (int ray = 0; ray < count; ray++) {
          java.util.Arrays.fill(column, ray * n, ray * n + n, source[from + ray]);
        }
      }
    }
    evaluation.run(n * count);
    for (int ray = 0; ray < count; ray++) {
      for (int k = 0; k < n; k++) {
        int to = ray * length + addresses[k];
        int i = ray * n + k;
        entry[to] = evaluation.entry(i);
        exit[to] = evaluation.exit(i);
        hit[to] = evaluation.hit(i);
      }
    }
  }

  private static int output(Datapath unit, String name) {
    for (int i = 0; i < unit.outputs().size(); i++) {
      if (unit.outputs().get(i).name().equals(name)) {
        return i;
      }
    }
    throw new IllegalArgumentException(
        "unit \""
            + unit.name()
            + "\" without result \""
            + name
            + "\": there are "
            + unit.outputs()
            + "; give it one");
  }

  /** Only a sphere may be missed by its line with distances given all the same. */
  private static boolean hasMeets(Datapath unit) {
    return unit.steps().stream().anyMatch(step -> step.name().equals("meets"));
  }

  static Evaluation bits(Datapath unit, int capacity) {
    BitEvaluation e = unit.bits(capacity);
    long[] entry = e.output(output(unit, "entry"), 0);
    long[] exit = e.output(output(unit, "exit"), 0);
    long[] hit = e.output(output(unit, "hit"), 0);
    long[] meets = hasMeets(unit) ? e.step("meets", 0) : null;
    return new Evaluation() {
      @Override
      public long[] input(int operand) {
        return e.input(operand, 0);
      }

      @Override
      public void run(int count) {
        e.run(count);
      }

      @Override
      public long entry(int i) {
        return entry[i];
      }

      @Override
      public long exit(int i) {
        return meets == null || meets[i] == 1 ? exit[i] : Long.MIN_VALUE;
      }

      @Override
      public boolean hit(int i) {
        return hit[i] == 1;
      }
    };
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
    return new Evaluation() {
      @Override
      public long[] input(int operand) {
        return e.input(operand, 0);
      }

      @Override
      public void run(int count) {
        e.run(count);
      }

      private long distance(double real) {
        return real <= lowest ? reals.lowest() : real >= highest ? reals.highest() : reals.of(real);
      }

      @Override
      public long entry(int i) {
        return distance(entry[i]);
      }

      @Override
      public long exit(int i) {
        return meets == null || meets[i] == 1 ? distance(exit[i]) : Long.MIN_VALUE;
      }

      @Override
      public boolean hit(int i) {
        return hit[i] == 1;
      }
    };
  }
}
