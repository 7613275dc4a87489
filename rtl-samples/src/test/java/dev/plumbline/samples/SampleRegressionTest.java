package dev.plumbline.samples;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.report.RunReport;
import dev.plumbline.stimulus.SeedText;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Every sample block in every format at every level: what the nightly run does with more cases. */
@Execution(ExecutionMode.CONCURRENT)
class SampleRegressionTest {
  private static final long CASES = Long.getLong("plumbline.cases", 30_000);
  private static final long SEED = SeedText.ofRun();

  static List<SampleBench> benches() {
    return SampleBenches.all();
  }

  @ParameterizedTest
  @MethodSource("benches")
  void holdsToItsReference(SampleBench bench) {
    check(bench, CASES);
  }

  /** One in three, and the ends of a parameter; the regression of the night takes all. */
  static List<SampleBench> otherFormats() {
    List<SampleBench> all = OtherFormats.fixed();
    return IntStream.range(0, all.size())
        .filter(
            i ->
                Boolean.getBoolean("plumbline.long")
                    || i % 3 == 0
                    || all.get(i).name().contains("margin 255"))
        .mapToObj(all::get)
        .toList();
  }

  @ParameterizedTest
  @MethodSource("otherFormats")
  @Tag("thorough")
  void holdsToItsReferenceInOtherFormats(SampleBench bench) {
    check(bench, CASES / 4);
  }

  private static void check(SampleBench bench, long cases) {
    bench
        .of(CompiledDesign.of(bench.rtl()))
        .cases(cases)
        .seed(SEED)
        .recorder(RunReport.current())
        .check();
  }

  @Test
  @Tag("thorough")
  void drawnFormatsFollowFromTheSeedAndAreLegalAndNamed() {
    Set<String> names = new HashSet<>();
    for (long seed = 1; seed <= 50; seed++) {
      List<SampleBench> drawn = OtherFormats.drawn(seed, 2);
      assertEquals(drawn.toString(), OtherFormats.drawn(seed, 2).toString());
      drawn.forEach(bench -> names.add(bench.name()));
    }
    assertTrue(names.size() > 300, names.size() + " formats");
    Set<String> there = new HashSet<>();
    OtherFormats.fixed().forEach(bench -> assertTrue(there.add(bench.name()), bench.name()));
    SampleBenches.all().forEach(bench -> assertTrue(there.add(bench.name()), bench.name()));
    assertTrue(there.contains("reciprocal s12.20 exact"), there.toString());
  }
}
