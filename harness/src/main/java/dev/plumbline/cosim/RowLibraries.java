package dev.plumbline.cosim;

import dev.plumbline.models.rows.RowCompiler;
import dev.plumbline.models.rows.RowProgram;
import dev.plumbline.models.rows.RowRunner;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.toolchain.RowBuild;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ConcurrentHashMap;

/**
 * References and draws of long runs as machine code, compiled beside the run that wants it.
 *
 * <p>Whatever is in the way of it (a processor without vectors for it, no compiler, no room),
 * references and draws go on as they are; they only take longer. The property {@code
 * plumbline.optimised} holds for them as it does for designs.
 */
public final class RowLibraries implements RowCompiler {
  /** Rows that take about as long as a program's compilation. */
  private static final long WORTH = 1 << 18;

  /** Characters of a program that compiles in some ten seconds; the time grows faster than they. */
  private static final int LONGEST = 200_000;

  /** Rows that what is only tried has not. */
  private static final long TRIAL = 1 << 14;

  private static final Map<String, CompletableFuture<Optional<NativeRows.Code>>> MADE =
      new ConcurrentHashMap<>();

  private final BuildOptions.Optimisation when;

  /** As the property says. */
  public RowLibraries() {
    this(BuildOptions.defaults().optimisation());
  }

  RowLibraries(BuildOptions.Optimisation when) {
    this.when = when;
  }

  @Override
  public long firstAsked() {
    return switch (when) {
      case FIRST -> TRIAL; // nobody shall wait for the compiler for the sake of a few rows
      case LATER -> WORTH;
      case NEVER -> Long.MAX_VALUE;
    };
  }

  @Override
  public Optional<RowRunner> find(RowProgram program, long rows) {
    if (program.statements().length() > LONGEST) {
      return Optional.empty();
    }
    CompletableFuture<Optional<NativeRows.Code>> made =
        MADE.computeIfAbsent(
            program.statements(),
            // Whatever goes wrong: the loops do as well.
            statements ->
                CompletableFuture.supplyAsync(() -> make(program), Tiers.BESIDE)
                    .exceptionally(failure -> Optional.empty()));
    Optional<NativeRows.Code> code =
        when == BuildOptions.Optimisation.FIRST ? made.join() : made.getNow(Optional.empty());
    return code.map(each -> new NativeRows(each, program));
  }

  private static Optional<NativeRows.Code> make(RowProgram program) {
    int firstOutput = program.inputs().size() + program.kept().size();
    NativeRows.Code code = NativeRows.Code.load(RowBuild.build(program.statements(), firstOutput));
    return code.isAble() ? Optional.of(code) : Optional.empty();
  }
}
