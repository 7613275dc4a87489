package dev.plumbline.cosim;

import dev.plumbline.models.rows.RowCompiler;
import dev.plumbline.models.rows.RowProgram;
import dev.plumbline.models.rows.RowRunner;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.toolchain.RowBuild;
import dev.plumbline.toolchain.RowBuild.Vectors;
import java.nio.file.Path;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Supplier;

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

  /** Rows that what is only tried has not: nobody shall wait for the compiler for those. */
  private static final long TRIAL = 1 << 14;

  /** Rows that are worth a look at what an earlier run has made. */
  private static final long LOOK = 1 << 11;

  /** By file: what earlier runs have made, and what this one has or is making. */
  private static final Map<Path, Optional<NativeRows.Code>> KEPT = new ConcurrentHashMap<>();

  private static final Map<Path, CompletableFuture<Optional<NativeRows.Code>>> MADE =
      new ConcurrentHashMap<>();

  private final BuildOptions.Optimisation when;
  private final Vectors vectors;

  /** As the property says. */
  public RowLibraries() {
    this(BuildOptions.defaults().optimisation(), Vectors.widest());
  }

  RowLibraries(BuildOptions.Optimisation when, Vectors vectors) {
    this.when = when;
    this.vectors = vectors;
  }

  @Override
  public long firstAsked() {
    return when == BuildOptions.Optimisation.NEVER ? Long.MAX_VALUE : LOOK;
  }

  @Override
  public Optional<RowRunner> find(RowProgram program, long rows) {
    if (program.statements().length() > LONGEST) {
      return Optional.empty();
    }
    return carefully(() -> code(program, rows)).map(code -> new NativeRows(code, program));
  }

  private Optional<NativeRows.Code> code(RowProgram program, long rows) {
    int firstOutput = program.inputs().size() + program.kept().size();
    Path place = RowBuild.place(program.statements(), firstOutput, vectors);
    Optional<NativeRows.Code> kept =
        KEPT.computeIfAbsent(
            place, file -> RowBuild.isMade(file) ? carefully(() -> load(file)) : Optional.empty());
    boolean isFirst = when == BuildOptions.Optimisation.FIRST;
    boolean isWanted = rows >= (isFirst ? TRIAL : WORTH) || MADE.containsKey(place);
    if (kept.isPresent() || !isWanted) {
      return kept;
    }
    CompletableFuture<Optional<NativeRows.Code>> made =
        MADE.computeIfAbsent(
            place,
            file -> beside(() -> load(RowBuild.build(program.statements(), firstOutput, vectors))));
    return isFirst ? made.join() : made.getNow(Optional.empty());
  }

  private static Optional<NativeRows.Code> load(Path file) {
    return Optional.of(NativeRows.Code.load(file)).filter(NativeRows.Code::isAble);
  }

  private static CompletableFuture<Optional<NativeRows.Code>> beside(
      Supplier<Optional<NativeRows.Code>> making) {
    return CompletableFuture.supplyAsync(() -> carefully(making), Tiers.BESIDE);
  }

  /** Whatever goes wrong: the loops do as well. */
  private static Optional<NativeRows.Code> carefully(Supplier<Optional<NativeRows.Code>> making) {
    try {
      return making.get();
    } catch (RuntimeException | LinkageError e) {
      return Optional.empty();
    }
  }
}
