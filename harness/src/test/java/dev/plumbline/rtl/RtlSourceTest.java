package dev.plumbline.rtl;

import static org.junit.jupiter.api.Assertions.assertEquals;

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
  void aStringParameterKeepsTheQuotesOfItsLiteral() {
    RtlSource source = RtlSource.of(Path.of("a.sv")).withParameter("NAME", "\"say \\\"hi\\\" $x\"");

    assertEquals(List.of("-GNAME=\"say \\\"hi\\\" $x\"", "a.sv"), source.arguments());
  }

  @Test
  void aSourceWithoutATopLeavesTheChoiceToVerilator() {
    assertEquals(List.of("a.sv"), RtlSource.of(Path.of("a.sv")).arguments());
  }
}
