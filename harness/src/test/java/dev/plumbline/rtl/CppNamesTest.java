package dev.plumbline.rtl;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class CppNamesTest {
  static void assertDial(String header) {
    assertEquals(
        Map.of(
            "clk", "clk",
            "rise+set", "rise__02bset",
            "hand$angle", "hand__024angle",
            "int", "__SYM__int",
            "new", "__SYM__new",
            "sun__moon", "sun___05Fmoon",
            "9th.ring[2]", "__039th__02ering__05b2__05d",
            "class_", "class_",
            "mark", "mark"),
        CppNames.members(Recorded.xml("5.006", "dial").ports(), header));
  }

  private static Port port(String name) {
    return new Port(
        name,
        Port.Direction.INPUT,
        1,
        false,
        List.of(),
        List.of(),
        List.of(),
        List.of(),
        new SourceLocation("a.sv", 7));
  }

  @ParameterizedTest
  @ValueSource(strings = {"5.006", "5.032", "5.048"})
  void everyPortIsPairedWithItsMember(String version) {
    assertDial(Recorded.text(version, "dial.h"));
  }

  /** Found by experiment on the three versions, which agree. */
  @ParameterizedTest
  @CsvSource({
    "plain_1, plain_1",
    "a$b, a__024b",
    "a__b, a___05Fb",
    "z__, z___05F",
    "__x, ___05Fx",
    "___q, ___05F_q",
    "q____r, q___05F___05Fr",
    "1abc, __031abc",
    "a.b, a__02eb",
    "_, _"
  })
  void charactersThatCppDoesNotTakeAreSpelledOut(String name, String member) {
    assertEquals(member, CppNames.encode(name));
  }

  @Test
  void arraysAndWideVectorsAreMembersToo() {
    assertEquals(
        Map.of("rack", "rack", "wide", "wide"),
        CppNames.members(
            List.of(port("rack"), port("wide")),
            "    VL_IN8((&rack)[2][3],3,0);\n    VL_INW(&wide,64,0,3);\n"));
  }

  @Test
  void aNameSoLongThatItBecameAHashIsFoundByElimination() {
    String name = "n".repeat(200);

    assertEquals(
        Map.of("a", "a", name, "__VhshGAY8wL3m"),
        CppNames.members(
            List.of(port(name), port("a")), "VL_IN8(&__VhshGAY8wL3m,0,0);\nVL_IN8(&a,0,0);\n"));
  }

  @Test
  void aPortWithoutAMemberIsReportedWithItsPlace() {
    RtlException refused =
        assertThrows(
            RtlException.class,
            () -> CppNames.members(List.of(port("lost")), "VL_IN8(&other,0,0);\n"));

    assertEquals("a.sv:7: port \"lost\"", refused.messages().get(0).toString());
  }

  /** 5.032 declares what 5.006 leaves to designs. */
  @Test
  void aPortIsCalledLikeAFunctionOnlyWhereTheHeaderDeclaresOne() {
    String member = "VL_IN8(&trace,3,0);\n";
    assertEquals(Map.of("trace", "trace"), CppNames.members(List.of(port("trace")), member));

    RtlException refused =
        assertThrows(
            RtlException.class,
            () ->
                CppNames.members(
                    List.of(port("trace")),
                    member + "    void trace(VerilatedTraceBaseC* tfp);\n"));
    assertEquals("a.sv:7: port \"trace\"", refused.messages().get(0).toString());
  }

  @Test
  void arraysOf5048AreFoundWithoutAMacro() {
    assertEquals(
        Map.of("row", "row", "deep", "deep"),
        CppNames.members(
            List.of(port("row"), port("deep")),
            """
            VlUnpacked<CData/*7:0*/, 3> row;
            VlUnpacked<VlUnpacked<VlWide<3>/*69:0*/, 3>, 2> deep;
            """));
  }
}
