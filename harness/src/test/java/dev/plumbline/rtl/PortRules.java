package dev.plumbline.rtl;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.rtl.Port.Direction;
import dev.plumbline.rtl.Port.EnumItem;
import dev.plumbline.rtl.Port.Field;
import dev.plumbline.rtl.Port.Range;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;

/** What the ports of a design look like. */
interface PortRules extends Reading {
  private static List<Range> ranges(int... bounds) {
    return java.util.stream.IntStream.range(0, bounds.length / 2)
        .mapToObj(i -> new Range(bounds[2 * i], bounds[2 * i + 1]))
        .toList();
  }

  private void assertShape(
      String port, int width, boolean signed, List<Range> packed, List<Range> unpacked) {
    Port it = port("gallery", port);
    assertEquals(width, it.width(), port + " width");
    assertEquals(signed, it.signed(), port + " sign");
    assertEquals(packed, it.packed(), port + " packed");
    assertEquals(unpacked, it.unpacked(), port + " unpacked");
  }

  @Test
  default void portsComeInTheOrderOfThePortListWhateverOrderTheyAreDeclaredIn() {
    assertEquals(
        List.of("level", "clk", "knock", "chime", "echo"),
        read("plate").ports().stream().map(Port::name).toList());
  }

  @Test
  default void eachPortHasItsDirection() {
    assertEquals(Direction.INPUT, port("gallery", "season").direction());
    assertEquals(Direction.OUTPUT, port("gallery", "one").direction());
    assertEquals(Direction.INOUT, port("gallery", "shared").direction());
  }

  @Test
  default void aSignGivenInALaterDeclarationCounts() {
    assertTrue(port("plate", "echo").signed());
    assertFalse(port("plate", "level").signed());
  }

  @Test
  default void aSingleBitHasNoDimensionsUnlessItIsDeclaredWithOne() {
    assertEquals(List.of(), port("dial", "clk").packed());
    assertEquals(1, port("dial", "clk").width());
    assertShape("one", 1, false, ranges(0, 0), List.of());
  }

  @Test
  default void rangesKeepTheirDirectionAndTheirBounds() {
    assertShape("ascending", 8, false, ranges(0, 7), List.of());
    assertShape("centred", 8, false, ranges(-3, 4), List.of());
    assertShape("wide", 65, false, ranges(64, 0), List.of());
    assertShape("position", 12, true, ranges(11, 0), List.of());
  }

  /** IEEE 1800-2017, 6.11: widths and default signs of the integer types. */
  @Test
  default void namedIntegerTypesHaveTheirWidthAndSign() {
    assertShape("sign", 1, true, List.of(), List.of());
    assertShape("digit", 8, true, ranges(7, 0), List.of());
    assertShape("letter", 8, false, ranges(7, 0), List.of());
    assertShape("short_one", 16, true, ranges(15, 0), List.of());
    assertShape("count", 32, true, ranges(31, 0), List.of());
    assertShape("long_one", 64, false, ranges(63, 0), List.of());
    assertShape("when_it_was", 64, false, ranges(63, 0), List.of());
  }

  @Test
  default void severalPackedDimensionsMakeOneWidth() {
    assertShape("quads", 32, false, ranges(3, 0, 7, 0), List.of());
  }

  /** IEEE 1800-2017, 7.4.1. */
  @Test
  default void aPackedArrayIsSignedByItsOwnDeclarationAndNotByThatOfItsElements() {
    assertShape("whole", 8, true, ranges(1, 0, 3, 0), List.of());
    assertShape("pair", 8, false, ranges(1, 0, 3, 0), List.of());
    assertShape("settings", 16, false, ranges(1, 0, 7, 0), List.of());
  }

  @Test
  default void unpackedDimensionsAreOutermostFirstThroughTypesOfArrays() {
    assertShape("slides", 8, false, ranges(7, 0), ranges(2, 0, 0, 1));
    assertEquals(6, port("gallery", "slides").elements());
    assertShape("rack", 8, true, ranges(7, 0), ranges(0, 1));
  }

  @Test
  default void enumsKeepTheirNamesAndCodesThroughAnyNumberOfTypeNames() {
    List<EnumItem> phase =
        List.of(
            new EnumItem("REST", "0"), new EnumItem("SWEEP", "2"), new EnumItem("ECLIPSE", "3"));
    assertEquals(phase, port("gallery", "phase").enumeration());
    assertEquals(phase, port("gallery", "season").enumeration());
    assertEquals(phase, port("gallery", "phases").enumeration());
    assertShape("phases", 2, false, ranges(1, 0), ranges(0, 1));
    assertEquals(
        List.of(new EnumItem("RED", "0"), new EnumItem("GREEN", "1")),
        port("gallery", "lamp").enumeration());
    assertEquals(List.of(), port("gallery", "ascending").enumeration());
  }

  @Test
  default void codesOfASignedEnumAreSigned() {
    assertShape("lead", 3, true, ranges(2, 0), List.of());
    assertEquals(
        List.of(
            new EnumItem("BEHIND", "-2"), new EnumItem("BESIDE", "-1"), new EnumItem("AHEAD", "3")),
        port("gallery", "lead").enumeration());
  }

  /** IEEE 1800-2017, 6.19: an enum without a base type is an int. */
  @Test
  default void enumsOfTheSameNameInTwoPackagesAreDistinguished() {
    assertShape("frame", 32, true, ranges(31, 0), List.of());
    assertEquals(
        List.of(new EnumItem("EVEN", "0"), new EnumItem("ODD", "1")),
        port("gallery", "frame").enumeration());
  }

  /** IEEE 1800-2017, 7.2.1: the first member of a packed struct is the most significant. */
  @Test
  default void membersOfAPackedStructAreBitRangesFirstMemberHighest() {
    assertShape("setting", 8, true, ranges(7, 0), List.of());
    assertEquals(
        List.of(new Field("coarse", 7, 4, false), new Field("fine", 3, 0, true)),
        port("gallery", "setting").fields());
    assertEquals(
        List.of(new Field("lit", 3, 3, false), new Field("hue", 2, 0, false)),
        port("gallery", "glow").fields());
  }

  @Test
  default void elementsOfAPackedArrayOfStructsHaveFieldsOfTheirOwn() {
    assertEquals(
        List.of(
            new Field("[1].coarse", 15, 12, false),
            new Field("[1].fine", 11, 8, true),
            new Field("[0].coarse", 7, 4, false),
            new Field("[0].fine", 3, 0, true)),
        port("gallery", "settings").fields());
  }

  /** IEEE 1800-2017, 7.3.1: the members of a packed union share their bits. */
  @Test
  default void membersOfAPackedUnionShareTheirBits() {
    assertShape("code", 8, false, ranges(7, 0), List.of());
    assertEquals(
        List.of(
            new Field("raw", 7, 0, false),
            new Field("half.high", 7, 4, false),
            new Field("half.low", 3, 0, false)),
        port("gallery", "code").fields());
  }

  @Test
  default void nestedStructsAreFlattenedWithNamesJoinedByDots() {
    assertShape("message", 58, false, ranges(57, 0), List.of());
    assertEquals(
        List.of(
            new Field("pose[1].angle", 57, 42, true),
            new Field("pose[1].planet", 41, 34, false),
            new Field("pose[0].angle", 33, 18, true),
            new Field("pose[0].planet", 17, 10, false),
            new Field("phase", 9, 8, false),
            new Field("code.raw", 7, 0, false),
            new Field("code.half.high", 7, 4, false),
            new Field("code.half.low", 3, 0, false)),
        port("gallery", "message").fields());
  }

  @Test
  default void namesComeBackAsInTheSourceWhateverTheyAreInCpp() {
    assertEquals(
        List.of(
            "clk",
            "rise+set",
            "hand$angle",
            "int",
            "new",
            "sun__moon",
            "9th.ring[2]",
            "class_",
            "mark"),
        read("dial").ports().stream().map(Port::name).toList());
  }

  @Test
  default void aWidthMayBeAFormulaOfParameters() {
    assertEquals(12, port("dial", "hand$angle").width());
    assertEquals(48, port("dial", "mark").width());
  }

  @Test
  default void eachPortTellsWhereItIsDeclared() {
    assertEquals("gallery.sv:10", Reading.line(port("gallery", "lead").location()));
    assertEquals("plate.v:5", Reading.line(port("plate", "clk").location()));
  }

  @Test
  default void includedFilesAreAmongTheFilesRead() {
    Set<String> files = new TreeSet<>();
    read("gallery").files().forEach(file -> files.add(file.getFileName().toString()));

    assertEquals(Set.of("gallery.sv", "orrery_units.svh"), files);
  }

  @Test
  default void theTopIsNamedAsInTheSource() {
    assertEquals("gallery", read("gallery").top());
  }
}
