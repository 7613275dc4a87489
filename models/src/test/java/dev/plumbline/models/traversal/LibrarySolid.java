package dev.plumbline.models.traversal;

import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.scene.CullingTable;
import dev.plumbline.models.span.SpanOperator;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.apache.commons.geometry.euclidean.threed.ConvexVolume;
import org.apache.commons.geometry.euclidean.threed.Plane;
import org.apache.commons.geometry.euclidean.threed.Planes;
import org.apache.commons.geometry.euclidean.threed.RegionBSPTree3D;
import org.apache.commons.geometry.euclidean.threed.Vector3D;
import org.apache.commons.geometry.euclidean.threed.shape.Parallelepiped;
import org.apache.commons.numbers.core.Precision;

/** Boxes, half-spaces and hulls combined by chance: a program of one object, and its region. */
final class LibrarySolid {
  static final Precision.DoubleEquivalence PRECISION = Precision.doubleEquivalenceOfEpsilon(1e-9);
  private static final ProgramLimits LIMITS = new ProgramLimits(256, 4, 256);
  private static final List<SpanOperator> OPERATORS = List.of(SpanOperator.values());

  private final Random random;
  private final Program.Builder builder = Program.builder(CullingTable.FORMATS, LIMITS).begin();

  /** By material: the outward normal of a half-space; null for a box. */
  private final List<Vector3D> normals = new ArrayList<>();

  final Program program;
  final RegionBSPTree3D region;

  LibrarySolid(Random random, int parts) {
    this.random = random;
    RegionBSPTree3D all = part();
    for (int i = 1; i < parts; i++) {
      RegionBSPTree3D right = part();
      SpanOperator operator = OPERATORS.get(random.nextInt(3));
      builder.combine(operator);
      all = combined(operator, all, right);
    }
    this.region = all;
    this.program = builder.close().end().build();
  }

  private static RegionBSPTree3D combined(
      SpanOperator operator, RegionBSPTree3D left, RegionBSPTree3D right) {
    RegionBSPTree3D all = RegionBSPTree3D.empty();
    switch (operator) {
      case UNION -> all.union(left, right);
      case INTERSECTION -> all.intersection(left, right);
      case DIFFERENCE -> all.difference(left, right);
    }
    return all;
  }

  private RegionBSPTree3D part() {
    return switch (random.nextInt(4)) {
      case 0 -> halfSpaces(1);
      case 1 -> halfSpaces(8);
      default -> box();
    };
  }

  private RegionBSPTree3D box() {
    long[] faces = new long[6];
    for (int axis = 0; axis < 3; axis++) {
      faces[axis] = CullingTable.code(random.nextDouble() * 3 - 2.5);
      faces[axis + 3] = faces[axis] + CullingTable.code(0.5 + random.nextDouble() * 2);
    }
    builder.box(normals.size(), faces);
    normals.add(null);
    Vector3D min = vector(faces[0], faces[1], faces[2]);
    return Parallelepiped.axisAligned(min, vector(faces[3], faces[4], faces[5]), PRECISION)
        .toTree();
  }

  /** One, or eight around a point. */
  private RegionBSPTree3D halfSpaces(int count) {
    double[] middle = new double[3];
    for (int axis = 0; axis < 3; axis++) {
      middle[axis] = random.nextDouble() * 2 - 1;
    }
    List<Plane> planes = new ArrayList<>();
    for (int k = 0; k < count; k++) {
      long[] n = new long[4];
      double level = 0.5 + random.nextDouble();
      for (int axis = 0; axis < 3; axis++) {
        double size = 0.4 + 0.6 * random.nextDouble();
        n[axis] = CullingTable.code((k >> axis & 1) == 0 ? size : -size);
        level += real(n[axis]) * middle[axis];
      }
      n[3] = CullingTable.code(level);
      builder.halfSpace(normals.size(), n);
      if (k > 0) {
        builder.intersection();
      }
      Vector3D normal = vector(n[0], n[1], n[2]);
      normals.add(normal.normalize());
      Vector3D at = normal.multiply(real(n[3]) / normal.normSq());
      planes.add(Planes.fromPointAndNormal(at, normal, PRECISION));
    }
    return ConvexVolume.fromBounds(planes).toTree();
  }

  /** Whether a normal of the region may be that of a material's solid, by one of some faces. */
  boolean isNormal(Vector3D normal, int material, int faces, boolean reversed) {
    Vector3D seen = reversed ? normal.negate() : normal;
    Vector3D outward = normals.get(material);
    return outward == null
        ? (faces >> face(seen) & 1) == 1
        : seen.eq(outward, PRECISION) && faces == 1;
  }

  /** The face of a box by its outward normal. */
  private static int face(Vector3D normal) {
    double[] n = normal.toArray();
    for (int axis = 0; axis < n.length; axis++) {
      if (Math.abs(n[axis]) > 0.5) {
        return 2 * axis + (n[axis] > 0 ? 1 : 0);
      }
    }
    throw new IllegalArgumentException("Normal " + normal + ": it has to be of unit length.");
  }

  static double real(long code) {
    return CullingTable.FORMATS.word().toReal(java.math.BigInteger.valueOf(code));
  }

  static Vector3D vector(long x, long y, long z) {
    return Vector3D.of(real(x), real(y), real(z));
  }
}
