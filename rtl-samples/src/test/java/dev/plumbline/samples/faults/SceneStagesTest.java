package dev.plumbline.samples.faults;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.faults.Fault;
import dev.plumbline.verdict.Stage;
import dev.plumbline.verdict.Verdict;
import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What is wrong first inside a scene executor is told, however much later it shows outside. */
@Tag("thorough")
class SceneStagesTest {
  private static final long RAYS = 1_500;

  private static Verdict verdict(Fault fault, Path folder) throws IOException {
    KeptVerdict kept = new KeptVerdict(true);
    new Planting(fault, folder).recorder(kept).run(Planting.BRIEF, 1, RAYS);
    return kept.verdict();
  }

  @Test
  void aCounterThatWrapsIsFoundBeforeAnythingComesEarly(@TempDir Path folder) throws IOException {
    Fault fault =
        SceneFaults.all().stream()
            .filter(one -> one.name().endsWith("predictor-wraps"))
            .findFirst()
            .orElseThrow();
    Verdict verdict = verdict(fault, folder);
    List<Stage> stages = verdict.findings().inside().stages();
    Stage first =
        stages.stream()
            .filter(stage -> stage.relation() == Stage.Relation.DIFFERS)
            .findFirst()
            .orElseThrow();
    assertTrue(first.step().name().contains("prediction"), first::toString);
    assertTrue(first.signal().endsWith(".counters_q"), first::toString);
    assertEquals(first, stages.get(stages.size() - 1)); // what is told before it is right
  }
}
