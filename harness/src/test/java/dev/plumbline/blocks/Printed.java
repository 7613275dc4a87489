package dev.plumbline.blocks;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;

/** What a bench printed. */
public final class Printed {
  private final ByteArrayOutputStream bytes = new ByteArrayOutputStream();

  public PrintStream stream() {
    return new PrintStream(bytes, true, StandardCharsets.UTF_8);
  }

  /** The text, runs of spaces as one. */
  public String text() {
    return bytes.toString(StandardCharsets.UTF_8).replaceAll(" +", " ");
  }
}
