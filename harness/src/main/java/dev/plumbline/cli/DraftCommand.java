package dev.plumbline.cli;

import dev.plumbline.PlumblineException;
import dev.plumbline.check.Bench;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.evidence.WholeFile;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.solid.Sphere;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.toolchain.Elaborator;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Objects;
import java.util.concurrent.Callable;
import java.util.stream.Stream;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** {@code plumbline draft}: a test class that is ready to run, from the ports of a design. */
@Command(
    name = "draft",
    description = "Writes a test class that holds a design to its mathematics, from its ports.")
final class DraftCommand implements Callable<Integer> {
  @Spec private CommandSpec spec;

  @Mixin private DesignOptions options;

  @Option(
      names = "--block",
      paramLabel = "BLOCK",
      description =
          "What it computes: sphere, plane, box, multiplier, square_root, reciprocal; guessed from"
              + " the ports where they leave no doubt.")
  private String block = "";

  @Option(
      names = "--word",
      paramLabel = "FORMAT",
      description =
          "The format of numbers, s16.16 say: s or u, whole bits with the sign, fraction bits."
              + " Unless given, the point is taken to be in the middle.")
  private String word;

  @Option(
      names = "--direction",
      paramLabel = "FORMAT",
      description = "The format of directions; two whole bits unless given.")
  private String direction;

  @Option(
      names = "--result",
      paramLabel = "FORMAT",
      description = "The format of a unit's result, where it is not that of its operands.")
  private String result;

  @Option(
      names = "--formula",
      paramLabel = "FORMULA",
      description =
          "The formula of a sphere: any, length, squares, perpendicular. Unless given, it is"
              + " measured on 10,000 cases where the ports let a bench run.")
  private String formula;

  @Option(
      names = "--to",
      paramLabel = "FILE",
      description = "Write the class to FILE, which names it; it must not be there yet.")
  private Path to;

  @Option(names = "--overwrite", description = "Replace FILE where it is there already.")
  private boolean overwrite;

  @Override
  public Integer call() {
    RtlSource source = options.source();
    BenchDraft draft =
        BenchDraft.of(Elaborator.elaborate(source), source)
            .block(block)
            .word(format("--word", word))
            .direction(format("--direction", direction))
            .result(format("--result", result));
    draft.finding(finding(draft, source));
    if (to == null) {
      PrintWriter out = spec.commandLine().getOut();
      out.print(draft.text(draft.className()));
      out.flush();
      return 0;
    }
    // The root of the file system has no name.
    String className = Objects.toString(to.getFileName(), "").replaceFirst("\\.java$", "");
    if (!className.matches("[A-Za-z_]\\w*")) {
      throw wrong("--to " + to + ": the file names the class, such as BallTest.java");
    }
    write(draft.text(className));
    return 0;
  }

  private DraftFinding finding(BenchDraft draft, RtlSource source) {
    try {
      return formula == null || !draft.isSphere()
          ? draft.measured(() -> Bench.of(CompiledDesign.of(source)))
          : DraftFinding.formula(said());
    } catch (PlumblineException | IllegalArgumentException e) {
      return DraftFinding.NONE; // without a bench that runs; what is wrong otherwise shows below
    }
  }

  private Sphere.Formula said() {
    return Stream.of(Sphere.Formula.values())
        .filter(one -> one.name().equalsIgnoreCase(formula))
        .findFirst()
        .orElseThrow(
            () -> wrong("--formula " + formula + ": it is any, length, squares or perpendicular"));
  }

  private void write(String text) {
    if (Files.exists(to) && !overwrite) {
      throw wrong("--to " + to + ": it is there already; give another, or --overwrite");
    }
    WholeFile.write(to.toAbsolutePath(), text);
  }

  private Format format(String option, String text) {
    try {
      return text == null ? null : FormatText.parse(text);
    } catch (IllegalArgumentException e) {
      throw wrong(option + " " + text + ": " + e.getMessage(), e);
    }
  }

  private ParameterException wrong(String message) {
    return new ParameterException(spec.commandLine(), message);
  }

  private ParameterException wrong(String message, Exception cause) {
    return new ParameterException(spec.commandLine(), message, cause);
  }
}
