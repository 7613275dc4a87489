package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;

import dev.plumbline.models.rows.RowCompiler;
import dev.plumbline.models.rows.RowProgram;
import dev.plumbline.models.rows.RowRunner;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.toolchain.RowBuild.Vectors;
import java.util.List;
import java.util.Optional;

/**
 * Compiles programs over rows at once, for each of some vectors that the processor has, which have
 * to give the same, and counts how often there was a program.
 */
final class CountedPrograms implements RowCompiler {
  private final List<Vectors> all;
  private int found;

  CountedPrograms(Vectors... all) {
    this.all = List.of(all);
  }

  int found() {
    return found;
  }

  @Override
  public long firstAsked() {
    return 0;
  }

  @Override
  public Optional<RowRunner> find(RowProgram program, long rows) {
    List<RowRunner> runners =
        all.stream()
            .map(vectors -> new RowLibraries(BuildOptions.Optimisation.FIRST, vectors))
            .flatMap(libraries -> libraries.find(program, Long.MAX_VALUE).stream()) // a long run
            .toList();
    found += runners.isEmpty() ? 0 : 1;
    return runners.isEmpty()
        ? Optional.empty()
        : Optional.of((state, count) -> run(runners, program.outputs(), state, count));
  }

  private static void run(List<RowRunner> all, List<long[]> outputs, long state, int count) {
    all.get(0).run(state, count);
    List<long[]> first = outputs.stream().map(long[]::clone).toList();
    for (RowRunner other : all.subList(1, all.size())) {
      other.run(state, count);
      for (int i = 0; i < first.size(); i++) {
        assertArrayEquals(first.get(i), outputs.get(i), "output " + i);
      }
    }
  }
}
