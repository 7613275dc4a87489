package dev.plumbline.rtl;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.rtl.RtlException.Message;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class VerilatorMessagesTest {
  private static final String FOLDER = "src/test/rtl/";

  private static List<String> lines(List<Message> messages) {
    return messages.stream().map(Message::toString).toList();
  }

  static void assertInterfacePorts(List<Message> errors) {
    assertEquals(
        List.of(
            FOLDER
                + "interface_port.sv:8:14: port \"light\" is an interface; wrap the module in one"
                + " with plain ports and make that the top",
            FOLDER
                + "interface_port.sv:9:10: port \"lamp\" is an interface; wrap the module in one"
                + " with plain ports and make that the top"),
        lines(errors));
  }

  @Test
  void errorsComeWithFileLineAndTextAndWithoutWarningsAdviceAndCounts() {
    assertEquals(
        List.of(
            FOLDER + "broken.sv:5:25: Can't find definition of variable: 'missing_here'",
            FOLDER + "broken.sv:12:19: Pin not found: 'y'",
            FOLDER + "broken.sv:14:20: Can't find definition of variable: 'never_declared'",
            FOLDER + "broken.sv:16:26: Can't find definition of task/function: 'wind'"),
        lines(VerilatorMessages.errors(Recorded.text("5.006", "broken.txt"))));
  }

  @Test
  void whatVerilatorAddsOnFurtherLinesIsJoinedToTheMessage() {
    List<String> errors = lines(VerilatorMessages.errors(Recorded.text("5.048", "broken.txt")));

    assertEquals(
        FOLDER
            + "broken.sv:17:9: Duplicate declaration of signal: 'twice'; "
            + FOLDER
            + "broken.sv:15: Location of original declaration",
        errors.get(0));
    assertEquals(5, errors.size());
  }

  @Test
  void warningsTellTheirCode() {
    assertEquals(
        List.of(
            FOLDER + "broken.sv:12:10: warning PINMISSING: Cell has missing pin: 'x'",
            FOLDER
                + "broken.sv:14:10: warning IMPLICIT: Signal definition not found, creating"
                + " implicitly: 'implied'"),
        lines(VerilatorMessages.all(Recorded.text("5.006", "broken.txt"))).stream()
            .filter(line -> line.contains("warning"))
            .toList());
  }

  @ParameterizedTest
  @ValueSource(strings = {"5.006", "5.032", "5.048"})
  void anInterfaceAmongThePortsOfTheTopIsNamedWithWhatToDo(String version) {
    assertInterfacePorts(VerilatorMessages.errors(Recorded.text(version, "interface_port.txt")));
  }

  @ParameterizedTest
  @ValueSource(strings = {"5.006", "5.032", "5.048"})
  void theFilesLookedForAreListedInTheMessage(String version) {
    List<Message> errors = VerilatorMessages.errors(Recorded.text(version, "lost_include.txt"));

    assertEquals(1, errors.size());
    assertEquals(new SourceLocation(FOLDER + "lost_include.sv", 1, 10), errors.get(0).location());
    String text = errors.get(0).text();
    assertTrue(text.startsWith("Cannot find include file: "), text);
    assertTrue(
        text.contains(
            "; Looked in: src/test/rtl/include/nowhere.svh, src/test/rtl/include/nowhere.svh.v, "),
        text);
  }

  @Test
  void anErrorWithoutAPlaceHasNone() {
    List<Message> errors =
        VerilatorMessages.errors(
            """
            %Error: Specified --top-module 'sun' was not found in design.
            %Error: Exiting due to 1 error(s)
            """);

    assertEquals(
        List.of(
            new Message(
                new SourceLocation("", 0),
                "Specified --top-module 'sun' was not found in design.")),
        errors);
  }

  @Test
  void aNameThatSystemVerilogReservesIsReportedWithWhatToDo() {
    String message = ":3: syntax error, unexpected inside, expecting IDENTIFIER or do or final";
    assertEquals(
        List.of(
            "ball.v"
                + message
                + "; \"inside\" is a word of SystemVerilog: rename it, or pass +1364-2005ext+v to"
                + " have .v files read as Verilog (--pass; arguments of @DesignUnderTest)"),
        lines(VerilatorMessages.errors("%Error: ball.v" + message + "\n")));
    for (String other :
        List.of("ball.sv" + message, "ball.v" + message.replace("inside", "always"))) {
      assertEquals(List.of(other), lines(VerilatorMessages.errors("%Error: " + other + "\n")));
    }
  }

  @Test
  void aColonOrABlankInAFileNameIsNoHindrance() {
    assertEquals(
        List.of(new Message(new SourceLocation("C:/my rtl/a.sv", 3, 7), "syntax error")),
        VerilatorMessages.errors("%Error: C:/my rtl/a.sv:3:7: syntax error\n"));
  }

  @Test
  void theInstanceThatAMessageIsAboutStaysWithIt() {
    assertEquals(
        "a.sv:3:7: warning WIDTH: Operator ADD expects 4 bits; In instance sky.moon",
        VerilatorMessages.all(
                """
                %Warning-WIDTH: a.sv:3:7: Operator ADD expects 4 bits
                                     : ... In instance sky.moon
                    3 |   assign q = a + b;
                      |       ^
                                ... For warning description see https://verilator.org/
                """)
            .get(0)
            .toString());
  }

  @Test
  void outputThatIsNoMessageIsKeptWholeRatherThanLost() {
    assertEquals(
        "verilator: line 1: Killed",
        VerilatorMessages.errors("verilator: line 1: Killed\n").get(0).toString());
    assertEquals(List.of(), VerilatorMessages.errors(""));
    assertEquals(List.of(), VerilatorMessages.all("- Verilator: Built from 0.02 MB\n"));
  }

  /** Found by spoiling recorded messages. */
  @Test
  void aMessageWithoutATextAndALineOfElevenDigitsAreRead() {
    assertEquals(1, VerilatorMessages.all("%Error: \n   more").size());
    assertEquals(1, VerilatorMessages.all("%Error: a.v:99999999999:1: odd").size());
  }
}
