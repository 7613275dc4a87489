package dev.plumbline.toolchain;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Which choices lose their branch: those whose sides may both be evaluated, and soon. */
class BranchesTest {
  @Test
  void plainSidesAreBothEvaluated() {
    assertEquals(
        "x = plumb::choose(bool((1U & c) ), vlSelf->a , vlSelf->b);",
        Branches.of("x = ((1U & c) ? vlSelf->a : vlSelf->b);"));
    assertEquals(
        "x = plumb::choose(bool(c ), (0x1ffU & (IData)(vlSelf->m[3U])) , 0ULL);",
        Branches.of("x = (c ? (0x1ffU & (IData)(vlSelf->m[3U])) : 0ULL);"));
    assertEquals(
        "x = plumb::choose(bool(c ), ((a << 1U) | (b >> 0x1fU)) , (- (IData)(d)));",
        Branches.of("x = (c ? ((a << 1U) | (b >> 0x1fU)) : (- (IData)(d)));"));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "x = ((5U >= i) ? vlSelf->m[i] : 0U);", // beyond the end
        "x = ((0x1fU >= n) ? (a << n) : 0U);", // by more than the width
        "x = ((0x1fU >= n) ? (a >> (IData)(n)) : 0U);",
        "x = (c ? VL_DIV_III(32, a, b) : a);", // a call
        "x = (c ? vlSelf->f(a) : a);",
        "x = (c ? (a / b) : a);",
        "x = (c ? (a = b) : a);",
        "x = (c ? (++a) : b);",
        "f(c ? a : b);", // other arguments may stand there
        "VL_PRINTF(\"(c ? a : b)\");",
        "// x = (c ? a : b);"
      })
  void othersStayAsTheyAre(String code) {
    assertEquals(code, Branches.of(code));
  }

  /** The choice between two choices is left: only one of those is evaluated. */
  @Test
  void onlyTheInnermostOfNestedChoicesIsChanged() {
    assertEquals(
        "x = (c ? plumb::choose(bool(d ), e , f) : g);", Branches.of("x = (c ? (d ? e : f) : g);"));
  }

  @Test
  void linesStayWhereTheyAre() {
    String code = "x = (c\n   ? a\n   : b);\ny = 1;\n";
    assertEquals(code.lines().count(), Branches.of(code).lines().count());
  }
}
