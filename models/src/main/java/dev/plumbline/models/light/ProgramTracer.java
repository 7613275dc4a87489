package dev.plumbline.models.light;

import dev.plumbline.models.program.Program;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.models.traversal.Retirement;
import dev.plumbline.models.traversal.SceneUnits;
import dev.plumbline.models.traversal.SurfaceNumber;
import dev.plumbline.models.traversal.Traversal;
import java.util.function.Consumer;

/** A tracer that runs a program. */
final class ProgramTracer implements RayTracer {
  private final Program program;
  private final Traversal traversal;
  private final Consumer<Retirement> observer = this::retire;
  private Surfaces into;
  private long operations;

  ProgramTracer(Program program, SceneUnits units, int spans) {
    this.program = program;
    this.traversal = Traversal.exact(units, spans);
  }

  @Override
  public void trace(Rays rays, int count, Surfaces surfaces) {
    into = surfaces;
    traversal.run(program, rays, 0, count, null, observer);
  }

  @Override
  public long operations() {
    return operations;
  }

  private void retire(Retirement retirement) {
    operations++;
    if (!retirement.isLast()) {
      return;
    }
    int ray = retirement.ray();
    into.hit[ray] = retirement.isFound();
    into.distance[ray] = retirement.distance();
    into.address[ray] = SurfaceNumber.address(retirement.surface());
    into.face[ray] = SurfaceNumber.face(retirement.surface());
  }
}
