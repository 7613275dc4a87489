package dev.plumbline.samples;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.program.WordLayout;
import dev.plumbline.models.traversal.Rays;
import java.math.BigInteger;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** Start, limit, spans behind the ray and steep axes: single rays through the scene executor. */
class RayRulesRtlTest {
  private static final SampleExecutor EXECUTOR = SampleExecutor.STANDARD;
  private static final SceneFormats FORMATS = EXECUTOR.formats();
  private static final long ONE = 1L << 16;
  private static final int MOST_CYCLES = 2_000;

  private static Dut dut;

  @BeforeAll
  static void open() {
    dut = CompiledDesign.of(EXECUTOR.rtl()).open();
  }

  @AfterAll
  static void close() {
    dut.close();
  }

  private static Program.Builder builder() {
    return Program.builder(FORMATS, EXECUTOR.limits());
  }

  /** A sphere of radius 1/2 that a ray along z meets at that distance. */
  private static Program.Builder sphereAt(Program.Builder b, long distance) {
    return b.sphere(1, 0, 0, distance * ONE + ONE / 2, ONE / 2);
  }

  private static Program sphere(long distance) {
    return sphereAt(builder().begin(), distance).close().end().build();
  }

  private static Rays along(long start, long... direction) {
    Rays rays = Rays.of(FORMATS, 1);
    rays.nearest(0, start, new long[3], direction);
    return rays;
  }

  /** What comes back: nothing, blocked, or distance in codes, address and face. */
  private static String result(Program program, Rays rays) {
    dut.set("rst", 1);
    dut.cycles(2);
    dut.set("rst", 0);
    BigInteger[] words = WordLayout.standard(FORMATS).encode(program);
    dut.set("load_valid", 1);
    for (int address = 0; address < words.length; address++) {
      dut.set("load_address", address);
      long[] parts = new long[4];
      for (int k = 0; k < parts.length; k++) {
        parts[k] = words[address].shiftRight(64 * k).longValue();
      }
      dut.set("load_word", parts);
      dut.cycle();
    }
    dut.set("load_valid", 0);
    for (String name : Rays.names()) {
      dut.set("ray_" + name, rays.column(name)[0]);
    }
    dut.set("ray_valid", 1);
    dut.cycle();
    dut.set("ray_valid", 0);
    dut.set("result_ready", 1);
    for (int i = 0; dut.get("result_valid") == 0; i++) {
      assertTrue(i < MOST_CYCLES, "no result");
      dut.cycle();
    }
    return dut.get("result_hit") == 0
        ? "nothing"
        : dut.get("ray_any_hit") == 1
            ? "blocked"
            : dut.get("result_distance")
                + " at "
                + dut.get("result_address")
                + "."
                + dut.get("result_face");
  }

  @Test
  void limit5AndOneSphereAt8IsNotBlocked() {
    Rays rays = along(0, 0, 0, ONE);
    rays.anyHit(0, 5 * ONE);
    assertEquals("nothing", result(sphere(8), rays));
    rays.anyHit(0, 8 * ONE);
    assertEquals("nothing", result(sphere(8), rays));
    rays.anyHit(0, 8 * ONE + 1);
    assertEquals("blocked", result(sphere(8), rays));
  }

  @Test
  void theLimitCountsForTheNearestSurfaceToo() {
    Rays rays = along(0, 0, 0, ONE);
    assertEquals(8 * ONE + " at 1.0", result(sphere(8), rays));
    rays.column("limit")[0] = 8 * ONE;
    assertEquals("nothing", result(sphere(8), rays));
  }

  @Test
  void fourSpheresBehindUseUpNoPlaceOfFour() {
    Program.Builder b = sphereAt(builder().begin(), -9);
    for (long distance : new long[] {-7, -5, -3, 3}) {
      b = sphereAt(b, distance).union();
    }
    assertEquals(3 * ONE + " at 8.0", result(b.close().end().build(), along(0, 0, 0, ONE)));
  }

  @Test
  void aStartBelow0IsTakenAs0() {
    assertEquals("nothing", result(sphere(-5), along(-8 * ONE, 0, 0, ONE)));
    assertEquals(5 * ONE + " at 1.0", result(sphere(5), along(-8 * ONE, 0, 0, ONE)));
  }

  /** Along (65536, 0, 1) z reaches 1/10 at 6553.6 only; the inverse, 65536, does not fit. */
  @Test
  void aDirectionOfOneCodeDoesNotMissABoxThatTheRayMeets() {
    Program box =
        builder()
            .begin()
            .box(1, 4000 * ONE, -ONE, -ONE, 5000 * ONE, ONE, ONE / 10)
            .close()
            .end()
            .build();
    assertEquals(4000 * ONE + " at 1.0", result(box, along(0, ONE, 0, 1)));
    assertEquals(4000 * ONE + " at 1.0", result(box, along(0, ONE, 1, -2)));
  }
}
