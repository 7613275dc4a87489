package dev.plumbline.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.verdict.Checked;
import dev.plumbline.verdict.Fact;
import dev.plumbline.verdict.Findings;
import dev.plumbline.verdict.Inside;
import dev.plumbline.verdict.Layout;
import dev.plumbline.verdict.Origin;
import dev.plumbline.verdict.Verdict;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;

/**
 * Against the escapes that the CI's documentation gives: % as %25, line break %0A, : %3A, , %2C.
 */
class AnnotationsTest {
  private static Verdict ended(String bench, Fact... details) {
    return Verdict.of(
        bench,
        Verdict.Outcome.DUT_ENDED,
        "100 % torn",
        Checked.of(1, 2, 0),
        new Origin(1, "0", ""),
        new Findings(
            -1,
            0,
            List.of(),
            Layout.NOTHING,
            List.of(),
            List.of(details),
            List.of(),
            "",
            Inside.NOTHING));
  }

  @Test
  void theLineOfTheRtlIsNamedFromTheCheckout() {
    Fact source = Fact.of("source", "at /work/chip/rtl/bell.sv:17: rope");
    String line = Annotations.of(ended("bell, large", source), Path.of("/work/chip"));
    assertTrue(
        line.startsWith("::error file=rtl/bell.sv,line=17,title=bell%2C large%3A DUT ended::"),
        line);
    assertTrue(line.contains("100 %25 torn%0A"), line);
    assertEquals(1, line.lines().count());
  }

  @Test
  void whereNoLineIsKnownTheRunIsAnnotated() {
    String line = Annotations.of(ended("bell"), Path.of("/work/chip"));
    assertTrue(line.startsWith("::error title=bell%3A DUT ended::bell: the DUT ended"), line);
  }
}
