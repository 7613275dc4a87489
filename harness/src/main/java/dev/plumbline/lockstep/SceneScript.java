package dev.plumbline.lockstep;

import dev.plumbline.drive.Engine;
import dev.plumbline.drive.Segment;
import dev.plumbline.models.program.Operation;
import dev.plumbline.models.program.Program;
import java.util.ArrayList;
import java.util.List;

/**
 * Everything that an executor is given from its start, where no chance is left. When rays are
 * accepted and results come is up to the executor, so that a script outlives a change of latency.
 *
 * @param start the state that the DUT wakes up in
 * @param seed of the segment that it was kept of
 * @param state which of the states by chance
 * @param parts one after the other; each waits until the rays of the one before are over
 */
record SceneScript(Engine.Start start, long seed, int state, List<Part> parts) {
  SceneScript {
    parts = List.copyOf(parts);
  }

  /** Nothing is cut. */
  static final int NO_CUT = -1;

  /**
   * A program and rays for it.
   *
   * @param resets cycles of reset before all else
   * @param loads whether the program is loaded; else the memory has it already
   * @param rays one at a time
   * @param cut cycles from the last ray's offer to a reset in its midst; {@link #NO_CUT} for none
   * @param aborts whether that is an abort in place of a reset
   */
  record Part(int resets, boolean loads, Program program, List<Ray> rays, int cut, boolean aborts) {
    Part {
      rays = List.copyOf(rays);
    }

    Part(int resets, boolean loads, Program program, List<Ray> rays, int cut) {
      this(resets, loads, program, rays, cut, false);
    }

    Part withRays(List<Ray> others) {
      return new Part(resets, loads, program, others, cut, aborts);
    }

    Part withRay(int index, Ray ray) {
      List<Ray> others = new ArrayList<>(rays);
      others.set(index, ray);
      return withRays(others);
    }

    Part withProgram(Program other) {
      return new Part(resets, loads, other, rays, cut, aborts);
    }

    Part withResets(int count) {
      return new Part(count, loads, program, rays, cut, aborts);
    }

    Part withLoad() {
      return new Part(resets, true, program, rays, cut, aborts);
    }

    Part withCut(int cycles) {
      return new Part(resets, loads, program, rays, cycles, aborts);
    }

    Part withoutCut() {
      return new Part(resets, loads, program, rays, NO_CUT);
    }
  }

  /**
   * A ray.
   *
   * @param pause cycles in which nothing is offered before it
   * @param stall cycles for which its result has to wait; where no cycle is promised, for which the
   *     consumer is not ready from its offer on
   * @param codes in the order of {@link dev.plumbline.models.traversal.Rays#names}
   */
  @SuppressWarnings("ArrayRecordComponent") // codes as everywhere here; rays are not compared
  record Ray(int pause, int stall, long[] codes) {
    Ray withPause(int cycles) {
      return new Ray(cycles, stall, codes);
    }

    Ray withStall(int cycles) {
      return new Ray(pause, cycles, codes);
    }

    Ray withCodes(long[] others) {
      return new Ray(pause, stall, others);
    }
  }

  SceneScript with(List<Part> others) {
    return new SceneScript(start, seed, state, others);
  }

  SceneScript with(int index, Part part) {
    List<Part> others = new ArrayList<>(parts);
    others.set(index, part);
    return with(others);
  }

  SceneScript startingFrom(Engine.Start other) {
    return new SceneScript(other, seed, other == Engine.Start.RANDOM ? state : 0, parts);
  }

  int rays() {
    return parts.stream().mapToInt(part -> part.rays().size()).sum();
  }

  /** Operations of all programs that are loaded. */
  int operations() {
    return parts.stream().filter(Part::loads).mapToInt(part -> part.program().length()).sum();
  }

  /** Those of them that are solids, combinations and skips; every program needs the others. */
  int solids() {
    return (int)
        parts.stream()
            .filter(Part::loads)
            .flatMap(part -> part.program().operations().stream())
            .map(Operation::kind)
            .filter(kind -> kind.isCombination() || !kind.operands().isEmpty())
            .count();
  }

  /** The segment that it is run as. */
  Segment segment() {
    return new Segment(Segment.OF_A_SCRIPT, 0, rays(), seed, start, state, true);
  }
}
