package dev.plumbline.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.List;

/** One run of the command line inside this JVM. */
record CommandLineRun(int status, String out, String err) {
  static CommandLineRun of(List<String> arguments) {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    ByteArrayOutputStream err = new ByteArrayOutputStream();
    int status =
        Main.run(
            new PrintStream(out, true, StandardCharsets.UTF_8),
            new PrintStream(err, true, StandardCharsets.UTF_8),
            arguments.toArray(String[]::new));
    return new CommandLineRun(
        status, out.toString(StandardCharsets.UTF_8), err.toString(StandardCharsets.UTF_8));
  }

  static CommandLineRun of(String... arguments) {
    return of(List.of(arguments));
  }

  /** Requires success and returns the last line on standard output. */
  String lastLine() {
    assertEquals(0, status, err);
    List<String> lines = out.lines().toList();
    return lines.get(lines.size() - 1);
  }

  /** Requires this status, something on standard error, no stack trace and no digest. */
  String refusal(int wanted) {
    assertEquals(wanted, status, out + err);
    assertFalse(err.isBlank(), "a failure says something");
    assertFalse(err.contains("\tat "), err);
    assertFalse(out.contains("digest"), out);
    return err;
  }
}
