package dev.plumbline.rays;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;

/** What a bench printed. */
final class Printed {
  private final ByteArrayOutputStream bytes = new ByteArrayOutputStream();

  PrintStream stream() {
    return new PrintStream(bytes, true, StandardCharsets.UTF_8);
  }

  /** The text, runs of spaces as one. */
  String text() {
    return bytes.toString(StandardCharsets.UTF_8).replaceAll(" +", " ");
  }
}
