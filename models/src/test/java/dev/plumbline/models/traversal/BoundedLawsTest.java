package dev.plumbline.models.traversal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.Allocations;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.models.program.Operation;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.scene.Culling;
import dev.plumbline.models.scene.CullingTable;
import dev.plumbline.models.scene.RandomScenes;
import dev.plumbline.models.scene.Scene;
import dev.plumbline.models.solid.BoxSlab;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Random;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Random scenes and rays in bounds: whom they have to take in, and whom they must not. */
class BoundedLawsTest {
  private static final int SCENES = 15;
  private static final int RAYS = 150;
  private static final int MARGIN = SceneUnits.MARGIN;

  static Stream<SceneFormats> formats() {
    return Stream.of(
        CullingTable.FORMATS,
        SceneFormats.of(Format.signed(18, 14), Format.signed(2, 14)),
        SceneFormats.of(Format.signed(12, 20), Format.signed(2, 16)));
  }

  /** A hit as it is reported, in codes or reals. */
  record Hit(
      boolean found, double distance, int address, int face, boolean reversed, boolean inward) {
    static Hit of(Retirement r, double lsbs) {
      double real = r.distances.toReal(r.distance());
      int address = SurfaceNumber.address(r.surface());
      int face = SurfaceNumber.face(r.surface());
      return new Hit(r.isFound(), real / lsbs, address, face, r.isReversed(), r.isInward());
    }

    /** With another distance, solid, face or side. */
    Hit other(double factor, int addresses, int faces, boolean turned) {
      return new Hit(
          true, distance * factor, address + addresses, face ^ faces, reversed ^ turned, inward);
    }
  }

  record Skip(int ray, int address, boolean taken) {
    boolean isAdmissible(AdmissibleHits hits) {
      return taken ? hits.mayTake(address) : hits.mayPass(address);
    }
  }

  private static List<Hit> hits(Traversal traversal, Program program, Rays rays) {
    return hits(traversal, program, rays, new ArrayList<>());
  }

  /** Also notes which skips were taken or passed. */
  private static List<Hit> hits(Traversal traversal, Program program, Rays rays, List<Skip> skips) {
    double lsbs = program.formats().word().lsbs();
    List<Hit> hits = new ArrayList<>();
    traversal.run(
        program,
        rays,
        0,
        rays.capacity(),
        null,
        r -> {
          if (r.operation().kind() == OperationKind.SKIP) {
            skips.add(new Skip(r.ray(), r.address(), r.isSkipTaken()));
          }
          if (r.isLast()) {
            hits.add(Hit.of(r, lsbs));
          }
        });
    return hits;
  }

  /** A real distance lies in an interval of codes when both codes around it do. */
  private static boolean admits(AdmissibleHits hits, Hit hit) {
    if (!hit.found()) {
      return hits.isMissAdmissible();
    }
    long down = (long) Math.floor(hit.distance() + 1e-3);
    long up = (long) Math.ceil(hit.distance() - 1e-3);
    return hits.admits(down, hit.address(), hit.face(), hit.reversed(), hit.inward())
        && hits.admits(up, hit.address(), hit.face(), hit.reversed(), hit.inward());
  }

  private static Program program(Random random, SceneFormats formats, int i) {
    Scene scene = new RandomScenes(random, 8, i % 3 > 0).scene(1 + i % 12, 2, false);
    Scene culled = i % 2 == 0 ? scene : Culling.of(formats, 64).culled(scene);
    return culled.program(formats, new ProgramLimits(4096, 8, 256));
  }

  /** Towards points on surfaces of solids, where silhouettes and edges are, and anywhere. */
  private static Rays rays(Random random, Program program, int count) {
    double unit = 1 / program.formats().word().lsbs();
    double one = 1 / program.formats().direction().lsbs();
    List<Operation> solids = program.operations().stream().filter(o -> o.kind().isSolid()).toList();
    Rays rays = Rays.of(program.formats(), count);
    for (int i = 0; i < count; i++) {
      double[] d = CullingTable.direction(random);
      Operation solid = solids.get(random.nextInt(solids.size()));
      double[] at = i % 4 == 0 ? anywhere(random) : at(random, solid, d, unit);
      long[] origin = new long[3];
      long[] direction = new long[3];
      double back = 16 * random.nextDouble();
      for (int k = 0; k < 3; k++) {
        origin[k] = Math.round((at[k] - back * d[k]) * unit);
        direction[k] = Math.round(d[k] * one);
      }
      rays.nearest(i, random.nextInt(20), origin, direction);
      if (i % 5 == 0) {
        rays.anyHit(i, Math.round(16 * random.nextDouble() * unit));
      }
    }
    return rays;
  }

  private static double[] anywhere(Random random) {
    double[] at = new double[3];
    for (int k = 0; k < 3; k++) {
      at[k] = random.nextDouble() * 20 - 10;
    }
    return at;
  }

  /** On the silhouette of a sphere, on an edge of a box, on a half-space's face. */
  private static double[] at(Random random, Operation solid, double[] d, double unit) {
    double[] at = anywhere(random);
    if (solid.kind() == OperationKind.SPHERE) {
      double along = d[0] * at[0] + d[1] * at[1] + d[2] * at[2];
      double length = 0;
      for (int k = 0; k < 3; k++) {
        at[k] -= along * d[k];
        length += at[k] * at[k];
      }
      for (int k = 0; k < 3; k++) {
        at[k] *= solid.operand(3) / Math.sqrt(length) / unit;
        at[k] += solid.operand(k) / unit;
      }
    } else if (solid.kind() == OperationKind.BOX) {
      int free = random.nextInt(4);
      for (int k = 0; k < 3; k++) {
        double share = k == free ? random.nextDouble() : random.nextInt(2);
        at[k] = (solid.operand(k) * (1 - share) + solid.operand(k + 3) * share) / unit;
      }
    }
    return at;
  }

  @ParameterizedTest
  @MethodSource("formats")
  void exactIdealAndOtherHardwareAreAdmissible(SceneFormats formats) {
    SceneUnits units = SceneUnits.of(formats);
    SceneUnits near =
        new SceneUnits(
            formats,
            units.sphere(),
            units.halfSpace(),
            BoxSlab.of(formats.word())
                .withRounding(Rounding.HALF_CEILING)
                .withFaces()
                .fromInverse(formats.inverse()));
    List<Traversal> all =
        List.of(Traversal.exact(units, 64), Traversal.exact(near, 64), Traversal.ideal(units));
    BoundedTraversal bounded = BoundedTraversal.of(SceneUnits.budgeted(formats), MARGIN);
    Random random = new Random(71);
    int[] seen = new int[4];
    for (int i = 0; i < SCENES; i++) {
      Program program = program(random, formats, i);
      Rays rays = rays(random, program, RAYS);
      List<List<Hit>> results = new ArrayList<>();
      List<Skip> skips = new ArrayList<>();
      all.forEach(traversal -> results.add(hits(traversal, program, rays, skips)));
      skips.sort(Comparator.comparingInt(Skip::ray));
      int[] checked = new int[1];
      bounded.run(
          program,
          rays,
          0,
          RAYS,
          hits -> {
            for (int k = 0; k < all.size(); k++) {
              Hit hit = results.get(k).get(hits.ray());
              int which = k;
              assertTrue(admits(hits, hit), () -> which + ": " + hit + " " + hits + "\n" + program);
            }
            for (;
                checked[0] < skips.size() && skips.get(checked[0]).ray() == hits.ray();
                checked[0]++) {
              Skip skip = skips.get(checked[0]);
              assertTrue(skip.isAdmissible(hits), () -> skip + ", " + hits + "\n" + program);
            }
            seen[0] += results.get(0).get(hits.ray()).found() ? 1 : 0;
            seen[1] += hits.isUnambiguous() ? 1 : 0;
            seen[2] += hits.isUnambiguous() && hits.count() > 0 ? 1 : 0;
            seen[3] += hits.isComplete() ? 1 : 0;
          });
    }
    // Of rays that are aimed at silhouettes and edges, most are unambiguous all the same.
    assertTrue(seen[0] > SCENES * RAYS / 4, seen[0] + " hits");
    assertTrue(seen[1] > SCENES * RAYS * 3 / 4, seen[1] + " rays unambiguous");
    assertTrue(seen[2] > SCENES * RAYS / 4, seen[2] + " hits unambiguous");
    assertEquals(SCENES * RAYS, seen[3], "rays with every choice followed");
  }

  @Test
  void nothingIsAllocatedForARay() {
    SceneFormats formats = CullingTable.FORMATS;
    Random random = new Random(73);
    Program program = program(random, formats, 1);
    Rays rays = rays(random, program, 1000);
    BoundedTraversal bounded = BoundedTraversal.of(SceneUnits.budgeted(formats), MARGIN);
    Allocations.requireNone(1000, () -> bounded.run(program, rays, 0, 1000, hits -> {}));
  }

  @Test
  void wrongHitsAreRefused() {
    SceneFormats formats = CullingTable.FORMATS;
    Traversal exact = Traversal.exact(SceneUnits.of(formats), 64);
    BoundedTraversal bounded = BoundedTraversal.of(SceneUnits.budgeted(formats), MARGIN);
    Random random = new Random(72);
    int[] refused = new int[6];
    int[] wrong = new int[6];
    for (int i = 0; i < SCENES; i++) {
      Program program = program(random, formats, i);
      Rays rays = rays(random, program, RAYS);
      Rays beyond = Rays.of(formats, RAYS);
      java.util.Arrays.fill(rays.column("any_hit"), 0);
      java.util.Arrays.fill(rays.column("limit"), formats.word().maxCode().longValueExact());
      for (String name : Rays.names()) {
        System.arraycopy(rays.column(name), 0, beyond.column(name), 0, RAYS);
      }
      List<Hit> nearest = hits(exact, program, rays);
      for (int ray = 0; ray < RAYS; ray++) {
        beyond.column("start")[ray] = (long) nearest.get(ray).distance();
      }
      List<Hit> next = hits(exact, program, beyond);
      bounded.run(
          program,
          rays,
          0,
          RAYS,
          hits -> {
            Hit hit = nearest.get(hits.ray());
            Hit farther = next.get(hits.ray());
            Hit[] wrongs = {
              hit.other(1, 1000, 0, false),
              hit.other(1, 0, 0, true),
              hit.other(1.01, 0, 0, false),
              farther,
              new Hit(false, 0, 0, 0, false, false),
              hit.other(1, 0, 1, false)
            };
            for (int k = 0; k < wrongs.length && hit.found(); k++) {
              wrong[k] += k != 3 || farther.found() ? 1 : 0;
              refused[k] += (k != 3 || farther.found()) && !admits(hits, wrongs[k]) ? 1 : 0;
            }
          });
    }
    String all = java.util.Arrays.toString(refused) + " of " + java.util.Arrays.toString(wrong);
    assertTrue(wrong[3] > 400, all);
    assertEquals(wrong[0], refused[0], "another solid: " + all);
    assertEquals(wrong[1], refused[1], 0.01 * wrong[1], "another side: " + all);
    assertEquals(wrong[2], refused[2], 0.01 * wrong[2], "a distance 1 % too far: " + all);
    assertEquals(wrong[3], refused[3], 0.01 * wrong[3], "the surface behind: " + all);
    assertEquals(wrong[5], refused[5], 0.01 * wrong[5], "the opposite face: " + all);
    // A third of the rays graze a sphere or a box.
    assertEquals(wrong[4], refused[4], 0.2 * wrong[4], "no surface: " + all);
  }
}
