package dev.plumbline.text;

import java.io.Console;
import java.lang.reflect.InvocationTargetException;

/** Whether somebody sits before this process, so that a line can be drawn over in place. */
public final class Terminal {
  private Terminal() {}

  /** A pipe or a file is no terminal, and CI wants no line drawn over. */
  @SuppressWarnings("SystemConsoleNull") // what it says of JDK 22 is seen to below
  public static boolean isThere() {
    Console console = System.console();
    if (console == null
        || System.getenv("CI") != null
        || System.getenv().getOrDefault("TERM", "dumb").equals("dumb")) {
      return false;
    }
    try { // from JDK 22 on there is a console where there is no terminal, too
      return (boolean) Console.class.getMethod("isTerminal").invoke(console);
    } catch (NoSuchMethodException e) {
      return true;
    } catch (IllegalAccessException | InvocationTargetException e) {
      return false;
    }
  }
}
