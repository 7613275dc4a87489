package dev.plumbline.cli;

import dev.plumbline.PlumblineException;
import dev.plumbline.cosim.DutException;
import java.io.PrintStream;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ScopeType;

/**
 * Where {@code harness/bin/plumbline} begins: parses the line, runs a verb, words every failure.
 */
@Command(
    name = "plumbline",
    description = "Looks at Verilog, and shakes it, without a line of Java.",
    subcommands = {
      PortsCommand.class,
      BudgetCommand.class,
      ToolsCommand.class,
      ShakeCommand.class,
      DraftCommand.class,
      WatchCommand.class
    },
    synopsisSubcommandLabel = "VERB",
    footer = {
      "",
      "Exit status: 0 done; 1 a fault of plumbline itself; 2 bad usage, or RTL or a tool chain"
          + " that",
      "will not do; 3 a run that ended abnormally."
    })
final class Main {
  private static final int OWN_FAULT = 1;
  private static final int REFUSED = 2;
  private static final int LONGEST = 2000;
  private static final int ENDED_ABNORMALLY = 3;

  @Option(
      names = {"-h", "--help"},
      usageHelp = true,
      scope = ScopeType.INHERIT,
      description = "Show this text.")
  @SuppressWarnings("UnusedVariable") // The annotation says it all.
  private boolean help;

  @Option(
      names = "--debug",
      scope = ScopeType.INHERIT,
      description = "On a failure, print also where in plumbline it was found.")
  private boolean stackTrace;

  Main() {}

  public static void main(String[] arguments) {
    System.exit(run(System.out, System.err, arguments));
  }

  /** Runs one command line on the given streams and returns its exit status. */
  static int run(PrintStream out, PrintStream err, String... arguments) {
    Main main = new Main();
    CommandLine line = main.line();
    line.setOut(new PrintWriter(out, true, StandardCharsets.UTF_8));
    line.setErr(new PrintWriter(err, true, StandardCharsets.UTF_8));
    line.setParameterExceptionHandler((wrong, given) -> usage(wrong));
    line.setExecutionExceptionHandler((failure, command, parsed) -> main.failed(failure, command));
    return line.execute(arguments);
  }

  /** What takes a line apart. */
  CommandLine line() {
    CommandLine line = new CommandLine(this);
    line.setUsageHelpWidth(100);
    // A file may be called @gear.v.
    line.setExpandAtFiles(false);
    return line;
  }

  static int usage(CommandLine.ParameterException wrong) {
    CommandLine command = wrong.getCommandLine();
    command.getErr().println("plumbline: " + shown(wrong.getMessage()));
    CommandLine.UnmatchedArgumentException.printSuggestions(wrong, command.getErr());
    command.getErr().println("Usage: " + usage(command.getCommandSpec()) + "; --help explains it");
    return REFUSED;
  }

  /** A message of the parser, which quotes arguments whole, at a length that a person reads. */
  private static String shown(String message) {
    return message.length() <= LONGEST ? message : message.substring(0, LONGEST) + "...";
  }

  /** One line: the command, and what comes after it. */
  private static String usage(CommandSpec command) {
    StringBuilder text = new StringBuilder(command.qualifiedName());
    if (!command.subcommands().isEmpty()) {
      text.append(" VERB");
    }
    command.options().stream()
        .filter(OptionSpec::required)
        .forEach(
            option ->
                text.append(' ')
                    .append(option.longestName())
                    .append(' ')
                    .append(option.paramLabel()));
    text.append(" [OPTION]...");
    command
        .positionalParameters()
        .forEach(named -> text.append(' ').append(named.paramLabel()).append("..."));
    return text.toString();
  }

  private int failed(Exception failure, CommandLine command) {
    PrintWriter err = command.getErr();
    int status = status(failure);
    if (status == OWN_FAULT) {
      err.println("plumbline failed by an internal error: " + failure);
    } else {
      err.println("plumbline: " + failure.getMessage());
    }
    if (stackTrace) {
      failure.printStackTrace(err);
    } else if (status == OWN_FAULT) {
      err.println("Run it again with --debug to see where.");
    }
    return status;
  }

  private static int status(Exception failure) {
    if (failure instanceof DutException) {
      return ENDED_ABNORMALLY;
    }
    return failure instanceof PlumblineException ? REFUSED : OWN_FAULT;
  }
}
