package dev.plumbline.cli;

/** The command line's door, for a JVM of its own. */
public final class Door {
  private Door() {}

  public static void main(String[] arguments) {
    Main.main(arguments);
  }
}
