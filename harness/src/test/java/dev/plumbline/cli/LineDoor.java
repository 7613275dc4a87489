package dev.plumbline.cli;

import dev.plumbline.models.fixed.Format;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.Objects;
import picocli.CommandLine;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParameterException;

/** Command lines taken apart without being run, for tests of other packages. */
public final class LineDoor {
  // To make one takes a thousand times as long as to use it.
  private static final ThreadLocal<CommandLine> LINE =
      ThreadLocal.withInitial(() -> new Main().line());

  private LineDoor() {}

  /** Takes a line apart, and puts together what it says of a source. */
  public static void read(String[] words) {
    StringWriter err = new StringWriter();
    try {
      CommandLine line = LINE.get();
      line.setErr(new PrintWriter(err));
      source(line.parseArgs(words));
    } catch (ParameterException e) {
      Main.usage(e);
      throw new IllegalArgumentException(err.toString(), e);
    }
  }

  private static void source(CommandLine.ParseResult line) {
    CommandLine.ParseResult parsed = line;
    while (parsed.hasSubcommand()) {
      parsed = parsed.subcommand();
    }
    CommandSpec verb = parsed.commandSpec();
    for (CommandSpec mixin : verb.mixins().values()) {
      if (mixin.userObject() instanceof DesignOptions options) {
        Objects.requireNonNull(options.source().arguments());
      }
    }
  }

  /** Reads a number format. */
  public static Format format(String text) {
    return FormatText.parse(text);
  }
}
