package dev.plumbline.rtl;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Arguments that would break what is built around Verilator are refused before it runs. */
class RefusedArgumentsTest {
  @ParameterizedTest
  @CsvSource({
    "--sc,leave it out",
    "-sc,leave it out",
    "--threads,one thread",
    "--trace,waveform.vcd",
    "--trace-fst,waveform.vcd",
    "--timing,drive the clock",
    "--xml-only,leave it out",
    "--json-only,leave it out",
    "--version,leave it out",
    "--coverage,coverage points",
    "--coverage-line,coverage points",
    "--exe,leave it out",
    "--build,leave it out",
    "--Mdir,leave it out",
    "-Mdir,leave it out",
    "--prefix,leave it out",
    "--top-module,withTop",
    "--top,withTop",
    "--no-assert,withAssertions",
    "--x-initial,withUnknowns",
    "-CFLAGS,leave it out",
    "--threads=2,one thread"
  })
  void anArgumentThatBreaksTheBuildIsRefusedWithWhatToDo(String argument, String instead) {
    RtlException refused =
        assertThrows(RtlException.class, () -> RtlSource.of().withArgument(argument));

    assertTrue(
        refused.getMessage().startsWith("argument \"" + argument + "\" cannot be passed"),
        refused.getMessage());
    assertTrue(refused.getMessage().contains(instead), refused.getMessage());
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "+1364-2005ext+v",
        "-Wall",
        "-Wno-WIDTH",
        "--language",
        "1800-2012",
        "--public-flat-rw",
        "--no-timing",
        "--bbox-sys",
        "+define+A=1",
        "--converge-limit",
        "-O0",
        "trace",
        "--stats"
      })
  void anyOtherArgumentIsPassedAsItStands(String argument) {
    assertEquals(List.of(argument), RtlSource.of().withArgument(argument).extraArguments());
  }
}
