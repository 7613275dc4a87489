package dev.plumbline.toolchain;

import java.nio.file.Path;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** What programs print and write, and file lists, read from memory for tests elsewhere. */
public final class ProgramTextDoor {
  private static final Path NOWHERE = Path.of("no such folder");

  private ProgramTextDoor() {}

  /** Compares a version. */
  public static void version(String text) {
    Matcher version = Pattern.compile("([0-9.]+)").matcher(text);
    if (version.find()) {
      ToolchainSetup.atLeast(version.group(1), "5.006");
      ToolchainSetup.atLeast("10", version.group(1));
    }
  }

  /** Reads a file list. */
  public static void fileList(String text) {
    VerilatorArguments.refused(NOWHERE, text.lines().toList());
    Receipt.searched(text);
  }

  /** Reads Verilator's record of the files it read. */
  public static void record(String text) {
    Receipt.filesRead(text.lines().toList(), NOWHERE);
  }

  /** Reads what a compiler printed. */
  public static void compiler(String text) {
    CompileFailure.of("module dial", text, NOWHERE, List.of());
  }

  /** Reads the C++ that Verilator wrote. */
  public static void ends(String text) {
    new Ends().scan(text);
  }
}
