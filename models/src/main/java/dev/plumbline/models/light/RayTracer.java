package dev.plumbline.models.light;

import dev.plumbline.models.program.Program;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.models.traversal.SceneUnits;

/**
 * What a scene does for rays, in bits. One tracer belongs to one thread.
 *
 * <pre>{@code
 * RayTracer tracer = RayTracer.of(program, SceneUnits.of(program.formats()), 4);
 * tracer.trace(rays, 100, surfaces);
 * }</pre>
 */
public interface RayTracer {
  /**
   * Finds what rays meet.
   *
   * @param rays of the program's formats
   * @param count how many, from the first
   * @param into takes it, ray by ray
   */
  void trace(Rays rays, int count, Surfaces into);

  /**
   * How many operations of the scene all rays so far have taken.
   *
   * @return 0 where nobody counts them
   */
  default long operations() {
    return 0;
  }

  /**
   * A scene's program, run operation by operation.
   *
   * <p>Rays follow {@link dev.plumbline.models.traversal.RayRules#standard}; faces of boxes are as
   * the units give them.
   *
   * @param program of the scene
   * @param units that find spans, with faces of boxes as {@link SceneUnits#of} has them
   * @param spans most spans of a list
   * @return a tracer
   */
  static RayTracer of(Program program, SceneUnits units, int spans) {
    return new ProgramTracer(program, units, spans);
  }
}
