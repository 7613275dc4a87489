package dev.plumbline.models.scene;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.parsing.TextException;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.ProgramException;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import java.math.BigDecimal;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

class SceneTextTest {
  private static final SceneFormats FORMATS =
      SceneFormats.of(Format.signed(16, 16), Format.signed(2, 16));
  private static final ProgramLimits LIMITS = new ProgramLimits(64, 4, 256);

  private static final String ORRERY =
      """
      # Half a bell on a post, behind a culling box.
      unit 20 mm
      material brass is 3
      material steel is 5

      within box from -40, -40, -40 mm to 4, 4, 4 cm
        piece bell
          take sphere at 0, 0, 1 cm radius 30 mm of brass
          cut sphere at 0, 0, 10 mm radius 25 mm of brass
          keep half-space facing 0, 0, -1 through 0, 0, 20 mm of steel
          add part
            take box from -5, -5, -40 mm to 5, 5, 0 mm of 9
            keep hull of steel
              facing 1, 1, 0 up to 5 mm
              facing -1, -1, 0 up to 5 mm
            done
          done
        done
      done
      piece ball take sphere at 2, 0, 0 mm radius 0.02 m of steel done
      """;

  @Test
  void aTextBecomesTheProgramThatItDescribes() {
    // By hand: 20 mm are 1, 0.1 is 6554 LSB of 2^-16, which is 0.100006103515625.
    assertEquals(
        """
           00  skip -2 -2 -2 2 2 2 to 14
           01  begin
           02    sphere 0 0 0.5 1.5 material 3
           03      sphere 0 0 0.5 1.25 material 3
           04        difference
           05      half_space 0 0 -1 -1 material 5
           06        intersection
           07      box -0.25 -0.25 -2 0.25 0.25 0 material 9
           08        half_space 1 1 0 0.25 material 5
           09          half_space -1 -1 0 0.25 material 5
           10            intersection
           11          intersection
           12        union
           13  close
           14  begin
           15    sphere 0.100006103515625 0 0 1 material 5
           16  close
           17  end
        """,
        Scene.parse(ORRERY).program(FORMATS, LIMITS).toString());
  }

  @Test
  void whatIsPrintedIsTheSameScene() {
    Scene scene = Scene.parse(ORRERY);
    assertEquals(scene, Scene.parse(scene.toString()));
    assertEquals(scene.hashCode(), Scene.parse(scene.toString()).hashCode());
    assertNotEquals(scene, Scene.parse(ORRERY.replace("radius 25", "radius 26")));
    Scene.Primitive ball =
        new Scene.Primitive(
            OperationKind.SPHERE,
            Stream.of("0", "0", "0", "1.50").map(BigDecimal::new).toList(),
            3);
    assertEquals(
        "material brass is 3\npiece ball take sphere at 0, 0, 0 radius 1.5 of brass done\n",
        Scene.of(null, Map.of("brass", 3), List.of(new Scene.Piece("ball", ball))).toString());
  }

  /** However many materials there are, and however long their names. */
  @Test
  void aMaterialThatIsNoneIsRefusedInAFewWords() {
    StringBuilder text = new StringBuilder("material " + "stone".repeat(2_000) + " is 1\n");
    for (int i = 0; i < 500; i++) {
      text.append("material m").append(i).append(" is 2\n");
    }
    TextException refused =
        assertThrows(TextException.class, () -> Scene.parse(text + ball("radius 1 of brass")));
    assertTrue(refused.getMessage().contains("stone..., m0, m1, "), refused.getMessage());
    assertTrue(refused.getMessage().contains("] and others or its number"), refused.getMessage());
    assertTrue(refused.getMessage().length() < 500, refused.getMessage());
  }

  @Test
  void randomScenesComeBack() {
    Random random = new Random(4);
    for (int i = 0; i < 2000; i++) {
      Scene scene = new RandomScenes(random, 10, false).scene(random.nextInt(5), 3, true);
      String text = scene.toString();
      assertEquals(scene, Scene.parse(text), text);
      assertEquals(text, Scene.parse(text).toString());
    }
  }

  static Stream<Arguments> faults() {
    return Stream.of(
        fault(
            "piece a\n  take ball at",
            2,
            8,
            "\"ball\" in line 2, column 8: allowed here is sphere or box or half-space or hull or"
                + " part; write that instead"),
        fault("piece a take sphere at 1 2", 1, 26, "\"2\" in line 1, column 26: allowed here is a"),
        fault("piece a take sphere at 1, x", 1, 27, "allowed here is the centre's y, a number"),
        fault("piece take", 1, 7, "but none of the words that the page explains"),
        fault("\n\n\tunits 3", 3, 2, "allowed here is piece, within, or the end of the text"),
        fault(
            "piece a # no more",
            1,
            18,
            "the end of the text in line 1, column 18: allowed here is"),
        fault("unit 0 mm", 1, 6, "a unit of 0 mm in line 1, column 6: it has to be above 0"),
        fault("material a is 1\nmaterial a is 2", 2, 10, "there is one of that name already"),
        fault("material a is -1", 1, 15, "a whole number from 0 to 2147483647"),
        fault(ball("radius 1 of brass"), 1, 44, "a material: one of [] or its number"),
        fault(
            ball("radius -1 of 3"),
            1,
            14,
            "Sphere of radius -1 in line 1, column 14: it has to be"),
        fault(ball("radius 5 mm of 3"), 1, 41, "begin the scene with a unit such as: unit 25 mm"),
        fault(
            "unit 1 mm piece a take sphere at 1, 2, 3 radius 4 of 1 done",
            1,
            42,
            "\"radius\" in line 1, column 42: allowed here is mm or cm or m; write"),
        fault(
            "piece a take box from 0, 3, 0 to 1, 2, 1 of 1 done",
            1,
            14,
            "Box from 3 to 2 along y in line 1, column 14: it has to run upwards; swap the two"),
        fault("within box from 0, 0, 0 to 1, 1, 1 done", 1, 36, "allowed here is piece or within;"),
        fault(
            "piece a take hull of 1 facing 1, 0, 0 up to 1 done done",
            1,
            47,
            "allowed here is facing; write"),
        fault("piece a take " + "part take ".repeat(201), 1, 2014, "nest them less deeply"),
        fault(ball("radius 1e9999 of 1"), 1, 39, "the radius, a number"));
  }

  private static String ball(String rest) {
    return "piece a take sphere at 0, 0, 0 " + rest + " done";
  }

  private static Arguments fault(String text, int line, int column, String message) {
    return Arguments.of(text, line, column, message);
  }

  @ParameterizedTest(name = "{3}")
  @MethodSource("faults")
  void saysWhatStoodWhereAndWhatIsAllowed(String text, int line, int column, String message) {
    TextException e = assertThrows(TextException.class, () -> Scene.parse(text));
    assertEquals("scene: ", e.getMessage().substring(0, 7));
    assertTrue(e.getMessage().contains(message), e.getMessage());
    assertEquals(line + " " + column, e.line() + " " + e.column(), e.getMessage());
  }

  @Test
  void numbersOutOfRangeAreRefusedWithTheRangeAndNeverClipped() {
    assertEquals(
        "scene: sphere with centre_x 40000 in line 1, column 14: s16.16 holds -32768 to"
            + " 32767.9999847412109375; bring it nearer to the middle or choose a larger unit.",
        refusal("piece a take sphere at 40000, 0, 0 radius 1 of 1 done").getMessage());
    assertEquals(
        "scene: sphere with radius 65535.99999 mm in line 2, column 14: s16.16 holds -65536 mm to"
            + " 65535.999969482421875 mm; bring it nearer to the middle or choose a larger unit.",
        refusal("unit 2 mm\npiece a take sphere at 0, 0, 0 m radius 65535.99999 mm of 1 done")
            .getMessage());
    assertEquals(
        "scene: half_space with normal_y -2.1 in line 1, column 14: s2.16 holds -2 to"
            + " 1.9999847412109375; make the normal shorter.",
        refusal("piece a take half-space facing 0, -2.1, 0 up to 0 of 1 done").getMessage());
    refusal(
        "within box from 0, 0, 0 to 0, 0, 32768 piece a take sphere at 0, 0, 0 radius 1 of 1"
            + " done done");
    // The last code and what is nearest to it fit.
    String last = "piece a take sphere at 32767.99999, -32768, 0 radius 1 of 1 done";
    assertEquals(Integer.MAX_VALUE, Scene.parse(last).program(FORMATS, LIMITS).at(1).operand(0));
  }

  @Test
  void programsThatBreakALimitNameThePlaceInTheText() {
    String nested =
        "piece a take sphere at 0, 0, 0 radius 1 of 1 "
            + "\n cut part take sphere at 0, 0, 0 radius 1 of 1".repeat(4)
            + " done".repeat(5);
    TextException e = refusal(nested);
    assertTrue(e.getMessage().contains("what stands in line 5, column 16"), e.getMessage());
    assertTrue(e.getMessage().contains("its depth is 4"), e.getMessage());
    assertEquals("5 16", e.line() + " " + e.column());
    assertEquals(5, ((ProgramException) e.getCause()).address());
    e = refusal("piece a take sphere at 0, 0, 0 radius 1 of 256 done");
    assertTrue(e.getMessage().contains("its material is 256"), e.getMessage());
    e = refusal("piece a take sphere at 0, 0, 0 radius 1 of 6 done\n".repeat(22));
    assertTrue(e.getMessage().contains("the memory holds 64 operations"), e.getMessage());
    assertEquals(22, e.line());
  }

  private static TextException refusal(String text) {
    Scene scene = Scene.parse(text);
    return assertThrows(TextException.class, () -> scene.program(FORMATS, LIMITS));
  }

  @Test
  void scenesMadeInCodeAreCheckedAsTextsAre() {
    BigDecimal one = BigDecimal.ONE;
    List<BigDecimal> four = List.of(one, one, one, one);
    assertRefused("it takes", () -> new Scene.Primitive(OperationKind.BOX, four, 1));
    assertRefused("it has to be a sphere", () -> new Scene.Primitive(OperationKind.SKIP, four, 1));
    assertRefused("0 or more", () -> new Scene.Primitive(OperationKind.SPHERE, four, -1));
    Scene.Solid ball = new Scene.Primitive(OperationKind.SPHERE, four, 1);
    assertRefused("use the solid itself", () -> new Scene.Part(ball, List.of()));
    assertRefused("above 0", () -> Scene.of(BigDecimal.ZERO, Map.of(), List.of()));
    assertRefused("Name \"a b\"", () -> Scene.of(one, Map.of("a b", 1), List.of()));
    assertRefused(
        "Name \"done\"", () -> Scene.of(one, Map.of(), List.of(new Scene.Piece("done", ball))));
  }

  private static void assertRefused(String message, Executable make) {
    IllegalArgumentException e = assertThrows(IllegalArgumentException.class, make);
    assertTrue(e.getMessage().contains(message), e.getMessage());
  }
}
