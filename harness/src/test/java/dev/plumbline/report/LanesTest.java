package dev.plumbline.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.check.VerdictSamples;
import dev.plumbline.verdict.Verdict;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

class LanesTest {
  private static final Verdict WRONG = VerdictSamples.wrongValue("moon", 5, "");

  private static Lanes.Lane lane(Lanes lanes, String port, String note) {
    return lanes.lanes().stream()
        .filter(lane -> lane.port().equals(port) && lane.note().equals(note))
        .findFirst()
        .orElseThrow();
  }

  @Test
  void theFirstWrongCycleStandsOffInItsOutputAlone() {
    Lanes lanes = Lanes.of(WRONG).orElseThrow();
    assertEquals(
        WRONG.first().orElseThrow().cycle(), lanes.cycles().get(lanes.wrong()), lanes::toString);
    Lanes.Lane actual = lane(lanes, "out_angle", "actual");
    Lanes.Lane expected = lane(lanes, "out_angle", "expected");
    assertTrue(actual.off().get(lanes.wrong()));
    assertEquals(1, actual.off().stream().filter(off -> off).count());
    assertTrue(expected.off().stream().noneMatch(off -> off));
    assertEquals(
        1,
        lanes.lanes().stream().flatMap(lane -> lane.off().stream()).filter(off -> off).count(),
        "nothing else does");
    long actualCode = Long.decode(actual.codes().get(lanes.wrong()));
    assertEquals(actualCode - 1, Long.decode(expected.codes().get(lanes.wrong())));
  }

  @Test
  void whatIsAllowedFollowsUponWhatCame() {
    Lanes lanes = Lanes.of(WRONG).orElseThrow();
    List<String> names = lanes.lanes().stream().map(l -> l.port() + " " + l.note()).toList();
    int actual = names.indexOf("out_angle actual");
    assertEquals("out_angle expected", names.get(actual + 1));
    Lanes range =
        Lanes.of(VerdictSamples.withReference((in, sum) -> sum + 9, "angle", 3)).orElseThrow();
    assertEquals("lowest", lane(range, "out_angle", "lowest").note());
    assertEquals("highest", lane(range, "out_angle", "highest").note());
  }

  @Test
  void aPassHasNone() {
    assertEquals(Optional.empty(), Lanes.of(VerdictSamples.pass("earth")));
  }

  @Test
  void nothingIsDrawnOutsideOfTheDrawing() {
    LaneDrawing drawing = LaneDrawing.of(Lanes.of(VerdictSamples.wideCodes()).orElseThrow());
    assertTrue(drawing.markX() + drawing.markWidth() < drawing.width());
    for (LaneDrawing.Line line : drawing.lanes()) {
      assertTrue(line.y() < drawing.height());
      for (LaneDrawing.Cell cell : line.cells()) {
        assertTrue(cell.x() + cell.width() <= drawing.width(), cell::toString);
        assertTrue(cell.text().length() <= 11, cell::toString);
      }
      for (LaneDrawing.Level level : line.levels()) {
        Stream.of(level.points().split("[ ,]"))
            .forEach(at -> assertTrue(Integer.parseInt(at) <= drawing.width(), level::toString));
      }
    }
  }
}
