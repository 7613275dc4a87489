package dev.plumbline.toolchain;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.rtl.VerilatorMessages;
import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;

/** Warnings of Verilator as a user sees them while a design is built. */
class LintWarningsTest {
  private static final String SAID =
      """
      %Warning-WIDTH: bell.sv:7:18: Operator ASSIGNW expects 4 bits on the Assign RHS
                                  : ... In instance bell
          7 |   assign strikes = hours;
            |                  ^
                      ... For warning description see the manual
      %Warning-LATCH: bell.sv:9:3: Latch inferred for signal 'bell.held'
      """;

  private static String printed(String said, String wanted) {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (PrintStream to = new PrintStream(bytes, true, StandardCharsets.UTF_8)) {
      LintWarnings.print(to, "module bell", VerilatorMessages.all(said), wanted);
    }
    return bytes.toString(StandardCharsets.UTF_8);
  }

  @Test
  void allAreShownWithTheirPlaces() {
    String text = printed(SAID, "");
    assertTrue(
        text.startsWith(
            "Plumbline: Verilator warns of module bell (2 warnings; -Dplumbline.warnings=none"
                + " leaves them out)\n  bell.sv:7:18: warning WIDTH: Operator ASSIGNW expects"),
        text);
    assertTrue(text.contains("\n  bell.sv:9:3: warning LATCH: Latch inferred"), text);
    assertEquals(text, printed(SAID, "all"));
  }

  @Test
  void codesMayBeChosen() {
    String text = printed(SAID, "UNUSED,LATCH");
    assertTrue(text.contains("(1 warning;"), text);
    assertTrue(!text.contains("WIDTH"), text);
    assertEquals("", printed(SAID, "none"));
    assertEquals("", printed(SAID, "UNUSED"));
    assertEquals("", printed("", "all"));
  }

  @Test
  void ofManyTheFirstAreShown() {
    String text = printed(SAID.repeat(20), "all");
    assertEquals(14, text.lines().count());
    assertTrue(text.endsWith("\n  and 28 more\n"), text);
  }
}
