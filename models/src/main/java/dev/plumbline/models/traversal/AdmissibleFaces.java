package dev.plumbline.models.traversal;

import dev.plumbline.models.datapath.BoundsEvaluation;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Vectors;
import java.util.ArrayList;
import java.util.List;

/**
 * By which faces hardware may say that a ray enters and leaves a box: of every axis whose distance
 * may be the last to enter or the first to leave, the plane that may be there, bit k for face k.
 */
final class AdmissibleFaces {
  private static final List<String> STEPS = List.of("near", "far", "min_first", "max_first");

  private final long[][] nearLow = new long[Vectors.COUNT][];
  private final long[][] nearHigh = new long[Vectors.COUNT][];
  private final long[][] farLow = new long[Vectors.COUNT][];
  private final long[][] farHigh = new long[Vectors.COUNT][];
  private final long[][] minFirst = new long[Vectors.COUNT][];
  private final long[][] maxFirst = new long[Vectors.COUNT][];

  private AdmissibleFaces() {}

  /** The steps of a box that tell its faces. */
  static String[] steps(Datapath box) {
    List<String> steps = new ArrayList<>();
    for (int axis = 0; axis < Vectors.COUNT; axis++) {
      for (String step : STEPS) {
        steps.add(step + Vectors.suffix(axis));
      }
    }
    for (String step : steps) {
      if (!SolidColumns.hasStep(box, step)) {
        throw new IllegalArgumentException(
            "Bounds of a box by \""
                + box.name()
                + "\": it has faces, but no step \""
                + step
                + "\" to tell which may be met; take one of Box.budgetedFromInverse or"
                + " Box.budgetedFromDirection.");
      }
    }
    return steps.toArray(String[]::new);
  }

  /** Of an evaluation that keeps those steps. */
  static AdmissibleFaces of(BoundsEvaluation e) {
    AdmissibleFaces faces = new AdmissibleFaces();
    for (int axis = 0; axis < Vectors.COUNT; axis++) {
      String suffix = Vectors.suffix(axis);
      faces.nearLow[axis] = e.stepLow("near" + suffix, 0);
      faces.nearHigh[axis] = e.stepHigh("near" + suffix, 0);
      faces.farLow[axis] = e.stepLow("far" + suffix, 0);
      faces.farHigh[axis] = e.stepHigh("far" + suffix, 0);
      faces.minFirst[axis] = e.stepHigh("min_first" + suffix, 0);
      faces.maxFirst[axis] = e.stepHigh("max_first" + suffix, 0);
    }
    return faces;
  }

  int ofEntry(int i) {
    long last = Math.max(nearLow[0][i], Math.max(nearLow[1][i], nearLow[2][i]));
    int set = 0;
    for (int axis = 0; axis < Vectors.COUNT; axis++) {
      if (nearHigh[axis][i] >= last) {
        set |= planes(axis, minFirst[axis][i], maxFirst[axis][i]);
      }
    }
    return set;
  }

  int ofExit(int i) {
    long first = Math.min(farHigh[0][i], Math.min(farHigh[1][i], farHigh[2][i]));
    int set = 0;
    for (int axis = 0; axis < Vectors.COUNT; axis++) {
      if (farLow[axis][i] <= first) {
        set |= planes(axis, maxFirst[axis][i], minFirst[axis][i]);
      }
    }
    return set;
  }

  /** The lower plane of an axis and the upper one, where each may be. */
  private static int planes(int axis, long lower, long upper) {
    return (int) (lower | upper << 1) << (2 * axis);
  }
}
