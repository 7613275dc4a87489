package dev.plumbline.cli;

import dev.plumbline.models.parsing.TextTable;
import dev.plumbline.toolchain.Toolchain;
import dev.plumbline.toolchain.ToolchainException;
import dev.plumbline.toolchain.ToolchainSetup;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Spec;

/** {@code plumbline tools}: what tool chain was found, and where. */
@Command(
    name = "tools",
    description = "Prints which programs were found to build designs with, where, which versions.")
final class ToolsCommand implements Callable<Integer> {
  @Spec private CommandSpec spec;

  @Override
  public Integer call() {
    List<ToolchainSetup.Program> programs = ToolchainSetup.look();
    TextTable table = new TextTable("program", "version", "wanted", "usable", "where");
    for (ToolchainSetup.Program program : programs) {
      table.add(
          program.name(),
          program.version().isEmpty() ? "none" : program.version(),
          program.wanted(),
          program.usable() ? "yes" : "no",
          program.path().map(Path::toString).orElse("not found"));
    }
    table.add(
        "java",
        System.getProperty("java.version"),
        "17 or newer",
        "yes",
        System.getProperty("java.home"));
    PrintWriter out = spec.commandLine().getOut();
    table.lines().forEach(out::println);
    out.flush();
    if (!ToolchainSetup.complete(programs)) {
      throw new ToolchainException(ToolchainSetup.complaint(programs));
    }
    out.println("In use: " + Toolchain.find());
    return 0;
  }
}
