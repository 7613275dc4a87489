package dev.plumbline.models.light;

import dev.plumbline.models.program.Program;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.models.traversal.Retirement;
import dev.plumbline.models.traversal.SceneUnits;
import dev.plumbline.models.traversal.Surfaces;
import dev.plumbline.models.traversal.Traversal;
import java.util.function.Consumer;

/** A tracer that runs a program, operation by operation. */
final class ProgramTracer implements RayTracer {
  private final Program program;
  private final Traversal traversal;
  private final Consumer<Retirement> observer = this::retire;
  private Rays columnsOf;
  private long[] anyHit;
  private RayHits into;

  ProgramTracer(Program program, SceneUnits units, int spans) {
    this.program = program;
    this.traversal = Traversal.exact(units, spans);
  }

  @Override
  public void trace(Rays rays, int count, RayHits hits) {
    if (rays != columnsOf) {
      columnsOf = rays;
      anyHit = rays.column("any_hit");
    }
    into = hits;
    traversal.run(program, rays, 0, count, null, observer);
  }

  private void retire(Retirement retirement) {
    if (!retirement.isLast()) {
      return;
    }
    int ray = retirement.ray();
    into.hit[ray] = retirement.isFound();
    if (into.hit[ray] && anyHit[ray] == 0) {
      into.distance[ray] = retirement.distance();
      into.address[ray] = Surfaces.address(retirement.surface());
      into.face[ray] = Surfaces.face(retirement.surface());
    }
  }
}
