package dev.plumbline.cases;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.Operation;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.stimulus.RandomStream;
import java.util.EnumSet;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;

class RandomScenesTest {
  private static final SceneFormats FORMATS =
      SceneFormats.of(Format.signed(16, 16), Format.signed(2, 16));

  private static RandomScenes scenes(ProgramLimits limits, long seed) {
    return RandomScenes.of(FORMATS, limits, 4, RandomStream.of(seed));
  }

  @Test
  void sameSeedSamePrograms() {
    ProgramLimits limits = new ProgramLimits(64, 4, 8);
    RandomScenes one = scenes(limits, 7);
    RandomScenes again = scenes(limits, 7);
    for (int i = 0; i < 50; i++) {
      assertEquals(one.next(), again.next());
    }
    assertNotEquals(scenes(limits, 8).next(), scenes(limits, 9).next());
  }

  @Test
  void programsReachEveryLimitOfTheirOwn() {
    ProgramLimits limits = new ProgramLimits(64, 3, 8);
    RandomScenes scenes = scenes(limits, 3);
    Set<Integer> lengths = new TreeSet<>();
    Set<OperationKind> kinds = EnumSet.noneOf(OperationKind.class);
    int toSkips = 0;
    for (int i = 0; i < 2000; i++) {
      Program program = scenes.next();
      lengths.add(program.length());
      for (Operation operation : program.operations()) {
        kinds.add(operation.kind());
        toSkips +=
            operation.kind() == OperationKind.SKIP
                    && program.at(operation.target()).kind() == OperationKind.SKIP
                ? 1
                : 0;
      }
    }
    assertTrue(lengths.contains(1) && lengths.contains(64), lengths.toString());
    assertEquals(EnumSet.allOf(OperationKind.class), kinds);
    assertTrue(toSkips > 100, "skips into skips: " + toSkips);
  }

  @Test
  void theSmallestMemoryAndStackHaveProgramsToo() {
    for (int length = 1; length < 6; length++) {
      for (int i = 0; i < 100; i++) {
        assertTrue(scenes(new ProgramLimits(length, 1, 1), i).next().length() <= length);
      }
    }
  }
}
