package dev.plumbline.models.solid;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * The planes {@code normal . x <= level} of well-known solids about the origin, and the radius of
 * the sphere through their vertices.
 */
record Faces(List<double[]> normals, double level, double circumradius) {
  private static final double GOLDEN = (1 + Math.sqrt(5)) / 2;

  /** Half the edge, three pairs of faces. */
  static Faces cube(double half) {
    return new Faces(cyclic(1, 0, 0), half, half * Math.sqrt(3));
  }

  /** |x| + |y| + |z| at most a. */
  static Faces octahedron(double a) {
    return new Faces(cyclic(1, 1, 1), a, a);
  }

  /** The four normals of outside check D9; vertices at distance sqrt(3) times the level. */
  static Faces tetrahedron(double level) {
    List<double[]> normals =
        List.of(
            new double[] {1, 1, 1},
            new double[] {1, -1, -1},
            new double[] {-1, 1, -1},
            new double[] {-1, -1, 1});
    return new Faces(normals, level, level * Math.sqrt(3));
  }

  /** Vertices (0, 1, golden) and so on, by a factor; normals are the dodecahedron's vertices. */
  static Faces icosahedron(double size) {
    List<double[]> normals = cyclic(1, 1, 1);
    normals.addAll(cyclic(0, GOLDEN, 1 / GOLDEN));
    double[] vertex = {0, size, size * GOLDEN};
    double level = normals.stream().mapToDouble(n -> dot(n, vertex)).max().orElseThrow();
    return new Faces(normals, level, Math.sqrt(dot(vertex, vertex)));
  }

  /** Vertices (1, 1, 1) and so on, by a factor; normals are the icosahedron's vertices. */
  static Faces dodecahedron(double size) {
    List<double[]> normals = cyclic(0, 1, GOLDEN);
    double[] vertex = {size, size, size};
    double level = normals.stream().mapToDouble(n -> dot(n, vertex)).max().orElseThrow();
    return new Faces(normals, level, Math.sqrt(dot(vertex, vertex)));
  }

  /** |x| + |y| at most a, and cyclic; its outermost vertices are (a, 0, 0) and so on. */
  static Faces rhombicDodecahedron(double a) {
    return new Faces(cyclic(1, 1, 0), a, a);
  }

  /** |x| at most a and cyclic, |x| + |y| + |z| at most 2 a; vertices (a, a, 0) and so on. */
  static Faces cuboctahedron(double a) {
    List<double[]> normals = cyclic(1, 0, 0);
    normals.addAll(cyclic(.5, .5, .5));
    return new Faces(normals, a, a * Math.sqrt(2));
  }

  /** |x| at most 2 a and cyclic, |x| + |y| + |z| at most 3 a; vertices (0, a, 2 a) and so on. */
  static Faces truncatedOctahedron(double a) {
    List<double[]> normals = cyclic(.75, 0, 0);
    normals.addAll(cyclic(.5, .5, .5));
    return new Faces(normals, 1.5 * a, a * Math.sqrt(5));
  }

  private static double dot(double[] a, double[] c) {
    return a[0] * c[0] + a[1] * c[1] + a[2] * c[2];
  }

  /** Every choice of signs and every cyclic order, each once. */
  private static List<double[]> cyclic(double x, double y, double z) {
    List<double[]> all = new ArrayList<>();
    double[] v = {x, y, z};
    for (int turn = 0; turn < 3; turn++) {
      for (int signs = 0; signs < 8; signs++) {
        double[] n = new double[3];
        for (int axis = 0; axis < 3; axis++) {
          double part = v[(axis + turn) % 3];
          n[axis] = (signs >> axis & 1) == 0 || part == 0 ? part : -part;
        }
        if (all.stream().noneMatch(other -> Arrays.equals(other, n))) {
          all.add(n);
        }
      }
    }
    return all;
  }
}
