package dev.plumbline.lockstep;

import dev.plumbline.drive.Engine;
import dev.plumbline.lockstep.SceneScript.Part;
import dev.plumbline.lockstep.SceneScript.Ray;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.Operation;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.traversal.Rays;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;
import java.util.function.UnaryOperator;

/**
 * Makes a script smaller as long as it shows the same: fewer programs and rays, fewer operations,
 * no pauses, then numbers at zero, then rounder ones. It tries so many scripts at most, so that the
 * result does not depend on the speed of the machine, unless the time runs out.
 */
final class SmallestScene {
  private static final int MOST_TRIALS = 4_000;
  private static final int MOST_SECONDS = 10;
  private static final int SKIP_AND_END = 2;

  /** Of trials and time; the rest is for plain scenes, where leaving out comes to nothing. */
  private static final double SHARE_OF_THE_FIRST = 0.5;

  /** A case of so many solids, skips and combinations is small. */
  private static final int FEW = 3;

  /** A program of so many takes long: what is plain is looked at before anything is left out. */
  private static final int LONG = 100;

  /**
   * Most rays that teach a prediction: a counter of four states up and down again, and one more.
   */
  private static final int MOST_TAUGHT = 7;

  private static final List<String> AXES = List.of("x", "y", "z");

  private final Executor executor;
  private final boolean hasReset;
  private final Predicate<SceneScript> shows;
  private final Rays single;
  private final SmallScenes plain;
  private final LookBudget budget = LookBudget.ofSeconds(MOST_SECONDS);
  private double share = 1; // of trials and time, that may be used up
  private int trials;
  private SceneScript script;

  /**
   * Prepares to look.
   *
   * @param shows whether what a script shows is still the same
   */
  SmallestScene(Executor executor, boolean hasReset, Predicate<SceneScript> shows) {
    this.executor = executor;
    this.hasReset = hasReset;
    this.shows = shows;
    this.single = Rays.of(executor.formats(), 1);
    this.plain = new SmallScenes(executor, hasReset);
  }

  /** The smallest found; empty when not even the script itself shows it. */
  Optional<SceneScript> of(SceneScript whole) {
    script = whole;
    if (!tries(whole) && !tries(waiting(whole))) {
      return Optional.empty();
    }
    fewerParts();
    taught();
    for (Engine.Start start : List.of(Engine.Start.ZEROS, Engine.Start.ONES)) {
      if (script.start() == Engine.Start.RANDOM) {
        tries(script.startingFrom(start));
      }
    }
    share = SHARE_OF_THE_FIRST;
    int least = 0; // no plain scene of fewer shows it
    if (script.solids() > LONG) {
      plain();
      least = isOver() ? 0 : script.solids();
    }
    smaller();
    share = 1;
    if (script.solids() > Math.max(FEW, least) && plain()) {
      smaller();
    }
    return Optional.of(script);
  }

  private void smaller() {
    int size;
    do {
      size = isOver() ? -1 : measure();
      fewerRays();
      calmer();
      for (int part = 0; part < script.parts().size(); part++) {
        fewerOperations(part);
      }
      for (int part = 0; part < script.parts().size(); part++) {
        rounderRays(part);
        rounderOperations(part);
      }
      fewerParts();
    } while (measure() != size && !isOver());
  }

  /** How many scripts were tried. */
  int trials() {
    return trials;
  }

  private boolean isOver() {
    return trials >= MOST_TRIALS * share || budget.isOver(share);
  }

  /** Keeps a script when it shows the same. */
  private boolean tries(SceneScript other) {
    if (isOver()) {
      return false;
    }
    trials++;
    if (!shows.test(other)) {
      return false;
    }
    script = other;
    return true;
  }

  /** Something that becomes less whenever a script becomes smaller. */
  private int measure() {
    int size = 0;
    for (Part part : script.parts()) {
      size += part.resets() + (part.loads() ? 1 : 0) + part.cut() - SceneScript.NO_CUT;
      for (Operation operation : part.program().operations()) {
        size += 100;
        for (long operand : ProgramCuts.operands(operation)) {
          size += Long.bitCount(Math.abs(operand));
        }
      }
      for (Ray ray : part.rays()) {
        size += 100 + ray.pause() + ray.stall();
        for (int column = 0; column < ray.codes().length; column++) {
          size += Long.bitCount(Math.abs(ray.codes()[column]));
        }
      }
    }
    return size;
  }

  /** For executors without a promise of cycles: every consumer is slow. */
  private SceneScript waiting(SceneScript whole) {
    List<Part> parts = new ArrayList<>();
    for (Part part : whole.parts()) {
      int most = 4 * part.program().length() + 100;
      parts.add(part.withRays(part.rays().stream().map(ray -> ray.withStall(most)).toList()));
    }
    return whole.with(parts);
  }

  /**
   * Programs of skips alone: one and rays that hit or miss its box, which teach a prediction; and
   * many that one ray misses, each predicted wrongly. No other program comes down to them by
   * leaving out.
   */
  private void taught() {
    if (script.operations() <= SKIP_AND_END || executor.timing() == null) {
      return;
    }
    for (int rays = 1; rays <= MOST_TAUGHT; rays++) {
      for (int taken = 0; taken < 1 << rays; taken++) {
        if (tries(script.with(List.of(plain.taught(1, rays, taken))))) {
          return;
        }
      }
    }
  }

  /** Whether a plain scene with fewer solids, skips and combinations shows it. */
  private boolean plain() {
    return new PlainSearch(
            plain,
            parts -> tries(script.with(parts)),
            () -> script.solids(),
            executor.limits().length())
        .finds();
  }

  /** The last parts, as few as show it; then without some of the others. */
  private void fewerParts() {
    List<Part> all = script.parts();
    for (int kept = 1; kept < all.size(); kept *= 2) {
      if (tries(script.with(whole(all.subList(all.size() - kept, all.size()))))) {
        break;
      }
    }
    for (int span = script.parts().size() / 2; span > 0; span /= 2) {
      for (int at = 0; at + span < script.parts().size(); ) {
        List<Part> left = new ArrayList<>(script.parts());
        left.subList(at, at + span).clear();
        if (!tries(script.with(whole(left)))) {
          at += span;
        }
      }
    }
  }

  /** Begins with a reset; each part whose program is another than that before it loads it. */
  private List<Part> whole(List<Part> parts) {
    return whole(parts, hasReset);
  }

  /** The same, of parts from anywhere in a segment. */
  static List<Part> whole(List<Part> parts, boolean hasReset) {
    List<Part> whole = new ArrayList<>();
    Program loaded = null;
    for (Part part : parts) {
      Part one = part;
      if (!part.loads() && !part.program().equals(loaded)) {
        one = one.withLoad();
      }
      if (whole.isEmpty() && hasReset && one.resets() == 0) {
        one = one.withResets(1);
      }
      loaded = one.program();
      whole.add(one);
    }
    return whole;
  }

  private void fewerRays() {
    for (int part = script.parts().size() - 1; part >= 0; part--) {
      for (int span = script.parts().get(part).rays().size(); span > 0; span /= 2) {
        for (int at = 0; at < script.parts().get(part).rays().size(); ) {
          List<Ray> rays = new ArrayList<>(script.parts().get(part).rays());
          rays.subList(at, Math.min(rays.size(), at + span)).clear();
          if (script.rays() == 0
              || !tries(script.with(part, script.parts().get(part).withRays(rays)))) {
            at += span;
          }
        }
      }
    }
  }

  /** No pauses, no stalls, no resets, where that is possible; else shorter ones. */
  private void calmer() {
    for (int index = 0; index < script.parts().size(); index++) {
      Part part = script.parts().get(index);
      int least = index == 0 && hasReset ? 1 : 0;
      int at = index;
      if (part.cut() >= 0 && !tries(script.with(index, part.withoutCut()))) {
        RounderNumbers.shorter(
            part.cut(),
            cycles -> tries(script.with(at, script.parts().get(at).withCut((int) cycles))));
      }
      if (script.parts().get(index).resets() > least) {
        if (!tries(script.with(index, script.parts().get(index).withResets(least)))) {
          tries(script.with(index, script.parts().get(index).withResets(1)));
        }
      }
      for (int n = 0; n < part.rays().size(); n++) {
        int ray = n;
        Ray given = script.parts().get(index).rays().get(ray);
        RounderNumbers.shorter(
            given.pause(), cycles -> tries(ray(at, ray, one -> one.withPause((int) cycles))));
        RounderNumbers.shorter(
            given.stall(), cycles -> tries(ray(at, ray, one -> one.withStall((int) cycles))));
      }
    }
  }

  private SceneScript ray(int part, int ray, UnaryOperator<Ray> change) {
    Part whole = script.parts().get(part);
    return script.with(part, whole.withRay(ray, change.apply(whole.rays().get(ray))));
  }

  private SceneScript program(int part, Program program) {
    List<Part> parts = new ArrayList<>(script.parts());
    Program before = parts.get(part).program();
    // Parts that find it in the memory have the same.
    for (int at = part; at < parts.size() && (at == part || !parts.get(at).loads()); at++) {
      if (parts.get(at).program().equals(before)) {
        parts.set(at, parts.get(at).withProgram(program));
      }
    }
    return script.with(parts);
  }

  private void fewerOperations(int part) {
    if (!script.parts().get(part).loads()) {
      return;
    }
    int units = ProgramCuts.units(script.parts().get(part).program()).size() - 1;
    for (int span = units; span > 0; span /= 2) {
      for (int at = 0; ; ) {
        Program program = script.parts().get(part).program();
        if (at >= ProgramCuts.units(program).size() - 1) {
          break;
        }
        Optional<Program> less = ProgramCuts.without(program, at, at + span);
        if (less.isEmpty() || !tries(program(part, less.get()))) {
          at += span;
        }
      }
    }
    boolean shorter = true;
    while (shorter && !isOver()) {
      shorter = false;
      for (Program less : ProgramCuts.withOneList(script.parts().get(part).program())) {
        if (tries(program(part, less))) {
          shorter = true;
          break;
        }
      }
    }
  }

  private void rounderOperations(int part) {
    if (!script.parts().get(part).loads()) {
      return;
    }
    for (int at = 0; at < script.parts().get(part).program().length(); at++) {
      int address = at;
      Operation operation = script.parts().get(part).program().at(address);
      if (operation.material() > 0) {
        for (int material = 0; material < Math.min(2, operation.material()); material++) {
          Operation other =
              Operation.solid(operation.kind(), material, ProgramCuts.operands(operation));
          Optional<Program> program =
              ProgramCuts.with(script.parts().get(part).program(), address, other);
          if (program.isPresent() && tries(program(part, program.get()))) {
            break;
          }
        }
      }
      List<String> names = operation.kind().operands();
      for (int i = 0; i < names.size(); i++) {
        int operand = i;
        RounderNumbers.rounder(
            executor.formats().operand(names.get(i)),
            script.parts().get(part).program().at(address).operand(operand),
            code -> {
              Operation now = script.parts().get(part).program().at(address);
              long[] codes = ProgramCuts.operands(now);
              codes[operand] = code;
              return ProgramCuts.with(
                      script.parts().get(part).program(), address, ProgramCuts.with(now, codes))
                  .filter(program -> tries(program(part, program)))
                  .isPresent();
            });
      }
    }
  }

  private void rounderRays(int part) {
    for (int at = 0; at < script.parts().get(part).rays().size(); at++) {
      int ray = at;
      boolean derived = tries(ray(part, ray, one -> one.withCodes(derived(one.codes()))));
      if (derived) {
        alongAnAxis(part, ray);
      }
      List<String> names = Rays.names();
      for (int c = 0; c < names.size(); c++) {
        int column = c;
        String name = names.get(c);
        if (derived && !name.startsWith("origin") && column < names.indexOf("start")) {
          continue; // a direction has unit length, and its inverses follow from it
        }
        RounderNumbers.rounder(
            Ports.rayFormat(name, executor.formats()),
            script.parts().get(part).rays().get(ray).codes()[column],
            code ->
                tries(
                    ray(
                        part,
                        ray,
                        one -> {
                          long[] codes = one.codes().clone();
                          codes[column] = code;
                          return one.withCodes(derived ? derived(codes) : codes);
                        })));
      }
    }
  }

  /** Looks along an axis, where that shows it. */
  private void alongAnAxis(int part, int ray) {
    Format format = executor.formats().direction();
    long one = 1L << Math.min(format.fractionBits(), format.width() - 2);
    int first = Rays.names().indexOf("direction_x");
    for (int axis = AXES.size() - 1; axis >= 0; axis--) {
      for (long length : new long[] {one, -one}) {
        long[] codes = script.parts().get(part).rays().get(ray).codes().clone();
        Arrays.fill(codes, first, first + AXES.size(), 0);
        codes[first + axis] = length;
        if (tries(ray(part, ray, any -> any.withCodes(derived(codes))))) {
          return;
        }
      }
    }
  }

  /** The same ray with the inverses that its direction has. */
  private long[] derived(long[] codes) {
    long[] origin = new long[AXES.size()];
    long[] direction = new long[AXES.size()];
    for (int axis = 0; axis < AXES.size(); axis++) {
      origin[axis] = codes[Rays.names().indexOf("origin_" + AXES.get(axis))];
      direction[axis] = codes[Rays.names().indexOf("direction_" + AXES.get(axis))];
    }
    single.nearest(0, codes[Rays.names().indexOf("start")], origin, direction);
    for (String kept : List.of("limit", "any_hit", "tag")) {
      single.column(kept)[0] = codes[Rays.names().indexOf(kept)];
    }
    return Rays.names().stream().mapToLong(name -> single.column(name)[0]).toArray();
  }
}
