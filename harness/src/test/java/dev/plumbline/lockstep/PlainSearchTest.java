package dev.plumbline.lockstep;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.drive.Engine;
import dev.plumbline.lockstep.RayMeasures.Measure;
import dev.plumbline.lockstep.SceneScript.Part;
import dev.plumbline.models.program.OperationKind;
import java.util.List;
import java.util.function.Predicate;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** Which plain scenes show something, by rules whose least is plain to see. */
@Tag("thorough")
class PlainSearchTest {
  private static final Executor EXECUTOR = SoftExecutor.promise().build();

  private int solids;
  private int tried;

  /** Looks for fewer than so many; a scene shows it where its first part does. */
  private boolean finds(int fewerThan, Predicate<Part> shows) {
    solids = fewerThan;
    return new PlainSearch(
            new SmallScenes(EXECUTOR, true),
            parts -> {
              int now = solids(parts);
              assertTrue(now < solids, () -> now + " are tried, " + solids + " are known");
              tried++;
              boolean shown = shows.test(parts.get(0));
              solids = shown ? now : solids;
              return shown;
            },
            () -> solids,
            EXECUTOR.limits().length())
        .finds();
  }

  private static int solids(List<Part> parts) {
    return new SceneScript(Engine.Start.ZEROS, 0, 0, parts).solids();
  }

  @Test
  void aFewWordsComeDownToASequenceOfTheFewest() {
    // begin, solid and close twice, a skip and the end
    assertTrue(finds(20, part -> part.program().length() >= 8));
    assertEquals(3, solids);
  }

  @Test
  void manyWordsOfObjectsForOneRayComeDownToTheirLeastCount() {
    // 19 objects of 3 words each and the end; no other shape or number of rays is nearer
    assertTrue(finds(40, part -> part.rays().size() == 1 && wordsOfObjects(part) >= 58));
    assertEquals(19, solids);
  }

  private static int wordsOfObjects(Part part) {
    boolean skips =
        part.program().operations().stream().anyMatch(one -> one.kind() == OperationKind.SKIP);
    return skips ? 0 : part.program().length();
  }

  @Test
  void wrongPredictionsComeDownToAsManySkips() {
    RayMeasures measures = new RayMeasures(EXECUTOR);
    assertTrue(finds(33, part -> measures.of(part).get(Measure.WRONG) >= 32));
    assertEquals(32, solids);
  }

  @Test
  void whatNoPlainSceneShowsIsNotFound() {
    assertFalse(finds(10, part -> false));
    assertEquals(10, solids);
    assertTrue(tried < 1_000, () -> tried + " were tried");
  }
}
