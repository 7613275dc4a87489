package dev.plumbline.junit;

import java.io.ByteArrayOutputStream;
import java.io.OutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;

/** Standard output, of which a thread, and those that it starts, may catch its own. */
final class Printed extends OutputStream {
  /** Where a thread's text goes; the console where nothing is set. */
  static final ThreadLocal<ByteArrayOutputStream> CAUGHT = new InheritableThreadLocal<>();

  private final PrintStream console;

  static {
    System.setOut(new PrintStream(new Printed(System.out), true, StandardCharsets.UTF_8));
  }

  private Printed(PrintStream console) {
    this.console = console;
  }

  private OutputStream target() {
    ByteArrayOutputStream caught = CAUGHT.get();
    return caught == null ? console : caught;
  }

  @Override
  public void write(int b) throws java.io.IOException {
    target().write(b);
  }

  @Override
  public void write(byte[] bytes, int from, int length) throws java.io.IOException {
    target().write(bytes, from, length);
  }

  @Override
  public void flush() throws java.io.IOException {
    target().flush();
  }
}
