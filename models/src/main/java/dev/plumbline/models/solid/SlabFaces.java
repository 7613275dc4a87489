package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.datapath.Vectors;
import dev.plumbline.models.fixed.Format;

/** Which faces of a box are met, of axes at one distance the first. */
final class SlabFaces {
  private final Datapath.Builder b;
  private final SlabSteps.Span[] spans;
  private final Value[] entered = new Value[Vectors.COUNT];
  private final Value[] left = new Value[Vectors.COUNT];

  SlabFaces(Datapath.Builder b, SlabSteps.Span[] spans) {
    this.b = b;
    this.spans = spans;
    Format code = Format.unsigned(3, 0);
    for (int i = 0; i < Vectors.COUNT; i++) {
      SlabSteps.Slab slab = spans[i].slab();
      String axis = slab.suffix();
      Value lower = b.constant("lower" + axis, code, 2L * i);
      Value upper = b.constant("upper" + axis, code, 2L * i + 1);
      Value ordered = b.atMost("min_first" + axis, slab.toMin(), slab.toMax());
      Value forwards = b.or("forwards" + axis, slab.axis().parallel(), ordered);
      entered[i] = b.select("entered" + axis, forwards, lower, upper);
      left[i] = b.select("left" + axis, forwards, upper, lower);
    }
  }

  /** Adds the results. */
  void describe(Value entryXy, Value exitXy) {
    Value entersByY = b.lessThan("enters_by_y", spans[0].near(), spans[1].near());
    Value entersXy = b.select("entry_face_xy", entersByY, entered[1], entered[0]);
    Value entersByZ = b.lessThan("enters_by_z", entryXy, spans[2].near());
    b.output("entry_face", b.select("entry_face", entersByZ, entered[2], entersXy));
    Value leavesByY = b.lessThan("leaves_by_y", spans[1].far(), spans[0].far());
    Value leavesXy = b.select("exit_face_xy", leavesByY, left[1], left[0]);
    Value leavesByZ = b.lessThan("leaves_by_z", spans[2].far(), exitXy);
    b.output("exit_face", b.select("exit_face", leavesByZ, left[2], leavesXy));
  }
}
