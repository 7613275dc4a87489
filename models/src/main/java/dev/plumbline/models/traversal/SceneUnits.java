package dev.plumbline.models.traversal;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.solid.Box;
import dev.plumbline.models.solid.BoxSlab;
import dev.plumbline.models.solid.HalfSpace;
import dev.plumbline.models.solid.Sphere;

/**
 * The datapaths that find a ray's spans: one for spheres, one for half-spaces, one for boxes, which
 * also decides skips.
 *
 * <p>Operands are taken by name: those of {@link OperationKind#operands} from the operation, all
 * others from the columns of {@link Rays}. Each gives {@code entry} and {@code exit}; the sphere
 * has a step {@code meets} besides, 1 where the ray's line meets it, and the box a result {@code
 * hit}, 0 where it is missed and skipped, margin included. A box with results {@code entry_face}
 * and {@code exit_face} says which faces are met, else all are its face 0.
 *
 * @param formats of the programs and rays
 * @param sphere as {@link Sphere#datapath}
 * @param halfSpace as {@link HalfSpace#datapath}
 * @param box as {@link BoxSlab#fromInverse}; the spans of a solid box do not know its margin. In
 *     bounds as {@link Box#budgetedFromInverse}
 */
public record SceneUnits(SceneFormats formats, Datapath sphere, Datapath halfSpace, Datapath box) {
  /** The margin of the sample chip's boxes, in LSB of a word. */
  public static final int MARGIN = 64;

  /**
   * Checks that the sphere has a step for whether the line meets it: its distances alone do not
   * decide it.
   */
  public SceneUnits {
    if (!SolidColumns.hasMeets(sphere)) {
      throw new IllegalArgumentException(
          "Sphere of a scene by \""
              + sphere.name()
              + "\": its steps are to have \"meets\", 1 where the ray's line meets it; there are "
              + sphere.steps()
              + ".");
    }
  }

  /**
   * The units of the sample chip: boxes with faces, saturated inverses taken for parallel, and a
   * margin of {@value #MARGIN} LSB, which with inverses of 16 fraction bits covers the distances of
   * both faces from the origin up to 64 units in sum.
   *
   * @param formats of the programs and rays
   * @return units
   */
  public static SceneUnits of(SceneFormats formats) {
    return of(formats, MARGIN);
  }

  /**
   * The same with another margin.
   *
   * @param formats of the programs and rays
   * @param margin LSB of a word that a culling box is taken to be deeper, 0 to 255
   * @return units
   */
  public static SceneUnits of(SceneFormats formats, int margin) {
    return new SceneUnits(
        formats,
        Sphere.of(formats.word(), formats.direction()).datapath(),
        HalfSpace.of(formats.word(), formats.direction()).datapath(),
        BoxSlab.of(formats.word())
            .withMargin(margin)
            .withSaturatedAsParallel(true)
            .withFaces()
            .fromInverse(formats.inverse()));
  }

  /**
   * Units whose bounds hold for any hardware in these formats that is given the inverses of a
   * direction, each within the default budget of its solid; for a {@link BoundedTraversal}.
   *
   * @param formats of the programs and rays
   * @return units whose bounds are meant
   */
  public static SceneUnits budgeted(SceneFormats formats) {
    Box box = Box.of(formats.word());
    return new SceneUnits(
        formats,
        Sphere.of(formats.word(), formats.direction()).budgeted(),
        HalfSpace.of(formats.word(), formats.direction()).budgeted(),
        box.budgetedFromSaturatedInverse(formats.inverse(), box.budget(formats.word())));
  }

  Datapath of(OperationKind kind) {
    return switch (kind) {
      case SPHERE -> sphere;
      case HALF_SPACE -> halfSpace;
      case BOX, SKIP -> box;
      default -> null;
    };
  }
}
