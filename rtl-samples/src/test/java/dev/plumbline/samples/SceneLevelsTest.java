package dev.plumbline.samples;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.ContractException;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.lockstep.Executor;
import dev.plumbline.lockstep.LockstepBench;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.verdict.Verdict;
import java.nio.file.Path;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** An executor that exposes less is checked as far as it does. */
@Tag("thorough")
class SceneLevelsTest {
  private static final Path CASTER =
      Path.of("src/test/resources/lockstep/ray_caster.sv").toAbsolutePath();

  private static Executor.Builder caster() {
    SceneFormats formats = SceneFormats.of(Format.signed(6, 6), Format.signed(2, 8));
    Executor.Builder caster =
        Executor.of(formats, new ProgramLimits(32, 2, 4))
            .spans(2)
            .port("rst", "clear")
            .port("load_valid", "write")
            .port("load_address", "write_place")
            .port("load_word", "write_code")
            .port("ray_valid", "go")
            .port("ray_ready", "free")
            .port("result_valid", "done")
            .port("result_hit", "struck")
            .port("result_distance", "reach");
    for (String axis : new String[] {"x", "y", "z"}) {
      caster
          .port("ray_origin_" + axis, "from_" + axis)
          .port("ray_direction_" + axis, "along_" + axis)
          .port("ray_inverse_" + axis, "over_" + axis)
          .port("ray_parallel_" + axis, "flat_" + axis);
    }
    return caster;
  }

  private static CompiledDesign casterModel() {
    return CompiledDesign.of(
        RtlSource.of(CASTER)
            .withTop("ray_caster")
            .withIncludeFolder(SampleRtl.FOLDER)
            .withLibraryFolder(SampleRtl.FOLDER)
            .withArgument("-Wno-PINMISSING"));
  }

  @Test
  void anExecutorThatShowsOnlyTheFinalHitIsCheckedAtThatLevel() {
    CompiledDesign model = casterModel();
    LockstepBench.Builder bench = LockstepBench.of(model).executor(caster().build());
    assertEquals("results only, in any cycle", bench.build().level());
    Verdict verdict = bench.cases(768).check();
    assertEquals(
        2, verdict.bounds().size(), "struck and reach are compared, and nothing that is not there");

    // The same RTL does not keep a promise of more spans than it has room for.
    Verdict lie = LockstepBench.of(model).executor(caster().spans(3).build()).cases(12_000).run();
    assertEquals(Verdict.Outcome.MISMATCH, lie.outcome());
  }

  @Test
  void aPortThatIsNotThereIsNamed() {
    Executor wrong = caster().port("result_hit", "stuck").build();
    ContractException refusal =
        assertThrows(
            ContractException.class, () -> LockstepBench.of(casterModel()).executor(wrong).build());
    assertTrue(
        refusal.getMessage().startsWith("Module ray_caster has no port \"stuck\" for result_hit;"),
        refusal.getMessage());
  }

  @Test
  void everyLevelBetweenIsCheckedAsWell() {
    CompiledDesign model = CompiledDesign.of(SampleExecutor.SMALL.rtl());
    Executor.Builder less = SampleExecutor.SMALL.promise().without("retire_valid");
    LockstepBench.Builder bench = LockstepBench.of(model).executor(less.build());
    assertEquals("results only, each in its cycle", bench.build().level());
    bench.cases(768).check();

    Executor.Builder untimed = SampleExecutor.SMALL.promise().untimed();
    bench = LockstepBench.of(model).executor(untimed.build());
    assertEquals("every operation and result, in any cycle", bench.build().level());
    bench.cases(768).check();
  }
}
