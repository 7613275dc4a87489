package dev.plumbline.rtl;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;

class RtlSourceTest {
  @Test
  void everyPartOfASourceBecomesAnArgumentAndFilesComeLast() {
    RtlSource source =
        RtlSource.of(Path.of("rtl/planet.sv"), Path.of("rtl/ring.sv"))
            .withTop("planet")
            .withIncludeFolder(Path.of("rtl/include"))
            .withLibraryFolder(Path.of("rtl/cells"))
            .withDefine("SIM", "")
            .withDefine("DEPTH", "8")
            .withParameter("W", "18")
            .withFileList(Path.of("rtl/all.f"))
            .withArgument("--language")
            .withArgument("1364-2005");

    assertEquals(
        List.of(
            "--top-module",
            "planet",
            "-Irtl/include",
            "-y",
            "rtl/cells",
            "-DSIM",
            "-DDEPTH=8",
            "-GW=18",
            "-f",
            "rtl/all.f",
            "--language",
            "1364-2005",
            "rtl/planet.sv",
            "rtl/ring.sv"),
        source.arguments());
  }

  @Test
  void aStringParameterIsPassedWithItsEscapesResolved() {
    RtlSource source =
        RtlSource.of(Path.of("a.sv")).withParameter("NAME", "\"tab\\t$x \\\\ \\101\"");

    assertEquals(List.of("-GNAME=\"tab\t$x \\ A\"", "a.sv"), source.arguments());
  }

  @Test
  void aStringParameterWithADoubleQuoteIsRefused() {
    RtlSource source = RtlSource.of(Path.of("a.sv")).withParameter("NAME", "\"say \\\"hi\\\"\"");

    RtlException refused = assertThrows(RtlException.class, source::arguments);

    assertEquals(
        "Parameter \"NAME\" cannot be overridden by \"say \\\"hi\\\"\": Verilator takes no double"
            + " quote inside a string there; set it in a wrapper module.",
        refused.getMessage());
  }

  @Test
  void aNegativeSizedNumberIsPassedAsItsBits() {
    RtlSource source =
        RtlSource.of(Path.of("a.sv"))
            .withParameter("A", "-16'sd5")
            .withParameter("B", "-8'h1")
            .withParameter("C", "-7")
            .withParameter("D", "12'd3");

    assertEquals(
        List.of("-GA=16'shfffb", "-GB=8'hff", "-GC=-7", "-GD=12'd3", "a.sv"), source.arguments());
  }

  @Test
  void aSourceWithoutATopLeavesTheChoiceToVerilator() {
    assertEquals(List.of("a.sv"), RtlSource.of(Path.of("a.sv")).arguments());
  }
}
