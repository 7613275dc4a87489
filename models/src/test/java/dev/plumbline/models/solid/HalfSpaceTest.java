package dev.plumbline.models.solid;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.unit.Reciprocal;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class HalfSpaceTest {
  private static final Format WORD = Format.signed(16, 16);
  private static final Format DIRECTION = Format.signed(2, 16);
  private static final double LOWEST = -32768;
  private static final double HIGHEST = 32768 - 0x1p-16;
  private static final double PLACE = 0x1p-16;

  static Stream<Datapath> forms() {
    HalfSpace half = HalfSpace.of(WORD, DIRECTION);
    return Stream.of(
        half.datapath(),
        half.withReciprocal(Reciprocal.newton(32, 16)).datapath(),
        half.budgeted());
  }

  private static BoxRig rig(Datapath form, double... normalAndLevel) {
    return new BoxRig(form)
        .set("normal", normalAndLevel[0], normalAndLevel[1], normalAndLevel[2])
        .setOne("level", normalAndLevel[3]);
  }

  @ParameterizedTest
  @MethodSource("forms")
  @DisplayName("C6: the plane y = 0 from above, from below, along it and in it")
  void publishedRays(Datapath form) {
    // J. Buck, The Ray Tracer Challenge, 2019, chapter 9. The solid is below the plane.
    BoxRig rig = rig(form, 0, 1, 0, 0);
    rig.set("origin", 0, 1, 0).set("direction", 0, -1, 0).run();
    assertEquals(1, rig.entry());
    assertEquals(HIGHEST, rig.exit());
    assertTrue(rig.hit() && !rig.is("inside") && !rig.is("leaving") && !rig.is("parallel"));
    rig.set("origin", 0, -1, 0).set("direction", 0, 1, 0).run();
    assertEquals(1, rig.exit());
    assertEquals(LOWEST, rig.entry());
    assertTrue(rig.hit() && rig.is("inside") && rig.is("leaving") && !rig.is("parallel"));
    // Parallel: no crossing. Outside, that is a miss; in the plane, which is the solid's, a hit.
    rig.set("origin", 0, 10, 0).set("direction", 0, 0, 1).run();
    assertTrue(!rig.hit() && rig.is("parallel") && !rig.is("inside"));
    assertEquals(HIGHEST, rig.entry());
    assertEquals(LOWEST, rig.exit());
    rig.set("origin", 0, 0, 0).run();
    assertTrue(rig.hit() && rig.is("parallel") && rig.is("inside"));
    assertEquals(LOWEST, rig.entry());
    assertEquals(HIGHEST, rig.exit());
  }

  @ParameterizedTest
  @MethodSource("forms")
  @DisplayName("C6: the plane x = 7 along the diagonal from (2,3,4): 5 sqrt(3) away")
  void skewRay(Datapath form) {
    // E. Haines in Glassner (ed.), An Introduction to Ray Tracing, 1989, chapter 2 (the method).
    double part = 1 / Math.sqrt(3);
    BoxRig rig = rig(form, 1, 0, 0, 7).set("origin", 2, 3, 4).set("direction", part, part, part);
    assertTrue(rig.run().is("leaving"));
    // A component's code is half an LSB off, in 0.577; so is the inverse, within one.
    assertEquals(5 * Math.sqrt(3), rig.exit(), 8.7 * PLACE * (.5 / .577 + 1) + PLACE);
  }

  @ParameterizedTest
  @MethodSource("forms")
  void originOnThePlaneIsInsideAndALsbsOffIsNot(Datapath form) {
    BoxRig rig = rig(form, .5, 0, 1, 3).set("direction", 0, 0, 1);
    rig.set("origin", 2, 5, 2).run();
    assertTrue(rig.is("inside") && rig.hit());
    assertEquals(0, rig.exit());
    // An LSB behind the plane is seen, but the distance is rounded to an LSB.
    rig.set("origin", 2, 5, 2 + 2 * PLACE).run();
    assertFalse(rig.is("inside"));
    assertEquals(-2 * PLACE, rig.exit());
    assertFalse(rig.hit());
    rig.set("direction", 0, 0, -1).run();
    assertTrue(rig.hit());
    assertEquals(2 * PLACE, rig.entry());
  }

  @ParameterizedTest
  @MethodSource("forms")
  void planeBehindIsMissedLeavingAndHitComingIn(Datapath form) {
    BoxRig rig = rig(form, 0, 0, 1, -4).set("origin", 0, 0, 0);
    assertFalse(rig.set("direction", 0, 0, 1).run().hit());
    assertEquals(-4, rig.exit());
    rig = rig(form, 0, 0, 1, 4).set("direction", 0, 0, -1).set("origin", 0, 0, 0);
    assertTrue(rig.run().hit() && rig.is("inside"));
    assertEquals(-4, rig.entry());
  }

  @ParameterizedTest
  @MethodSource("forms")
  void lengthsOfNormalAndDirectionMayBeAny(Datapath form) {
    // The plane z = 6 as 1.5 z <= 9; a direction of length 1/4 takes four times as many of itself.
    BoxRig rig = rig(form, 0, 0, 1.5, 9).set("origin", 0, 0, 2);
    rig.set("direction", 0, 0, .25).run();
    // The inverse of .375 is within one LSB of 2.6667, at a height of 6.
    assertEquals(16, rig.exit(), 6 * PLACE + PLACE);
    rig.set("direction", 0, 0, -2).set("origin", 0, 0, 10).run();
    assertEquals(2, rig.entry(), 6 * PLACE + PLACE);
  }

  @ParameterizedTest
  @MethodSource("forms")
  void zeroNormalIsAllOfSpaceOrNothing(Datapath form) {
    BoxRig rig = rig(form, 0, 0, 0, 0).set("origin", 5, 6, 7).set("direction", .6, .8, 0);
    assertTrue(rig.run().hit() && rig.is("inside") && rig.is("parallel"));
    rig.setOne("level", -PLACE).run();
    assertTrue(!rig.hit() && !rig.is("inside") && rig.is("parallel"));
    // A direction of zero stays where it is.
    rig = rig(form, 1, 0, 0, 3).set("origin", 2, 0, 0).set("direction", 0, 0, 0);
    assertTrue(rig.run().hit());
    assertFalse(rig.set("origin", 4, 0, 0).run().hit());
  }

  @ParameterizedTest
  @MethodSource("forms")
  void distanceBeyondTheWordSaturatesAndDecidesRightly(Datapath form) {
    // 30000 away at a slope of 2^-4: 480000, and -480000.
    BoxRig rig = rig(form, 0, 0, 1, 30000).set("origin", 0, 0, 0).set("direction", 1, 0, 0x1p-4);
    assertTrue(rig.run().hit());
    assertEquals(HIGHEST, rig.exit());
    rig.setOne("level", -30000).run();
    assertEquals(LOWEST, rig.exit());
    assertFalse(rig.hit());
    rig.set("direction", 1, 0, -0x1p-4).run();
    assertEquals(HIGHEST, rig.entry());
    assertTrue(rig.hit(), "far ahead");
  }

  @Test
  void inverseBeyondItsFormatSaturatesAndKeepsTheSign() {
    // A slope of one LSB has an inverse of 65536, which saturates just below 32768.
    BoxRig rig = rig(HalfSpace.of(WORD, DIRECTION).datapath(), 0, 0, 1, 0x1p-4);
    rig.set("origin", 0, 0, 0).set("direction", 1, 0, PLACE).run();
    assertEquals(2048, rig.exit(), PLACE);
    // Without that limit the distance is twice as far; hardware may do either.
    Datapath any = HalfSpace.of(WORD, DIRECTION).budgeted();
    assertEquals(4096, rig(any, 0, 0, 1, 0x1p-4).set("direction", 1, 0, PLACE).run().exit());
  }

  @Test
  void heightOfAllTermsAtTheirLimitsIsHeld() {
    // level - 3 * (-2) * (-32768) and its like stay within eight times the word.
    BoxRig rig = rig(HalfSpace.of(WORD, DIRECTION).datapath(), -2, -2, -2, LOWEST);
    rig.set("origin", LOWEST, LOWEST, LOWEST).set("direction", 2, 2, 2).run();
    // Height -229376 over slope -12 (less what 2 is off its code): 19114.67.
    assertEquals(229376 / 12.0, rig.entry(), 229376 * 2 * PLACE);
    assertTrue(rig.hit());
  }

  @Test
  void operandsStandInTheOrderOfThePorts() {
    Datapath half = HalfSpace.of(WORD, DIRECTION).datapath();
    assertEquals(
        "origin_x origin_y origin_z direction_x direction_y direction_z normal_x normal_y normal_z"
            + " level hit inside leaving parallel entry exit",
        Stream.concat(half.inputs().stream(), half.outputs().stream())
            .map(Operand::name)
            .collect(Collectors.joining(" ")));
  }

  @Test
  void stepNamesAreStages() {
    assertTrue(
        HalfSpace.of(WORD, DIRECTION).datapath().steps().stream()
            .map(Operand::name)
            .toList()
            .containsAll(
                java.util.List.of(
                    "height", "slope_full", "slope", "inverse", "depth", "distance")));
  }
}
