package dev.plumbline.lockstep;

import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.span.Distances;
import java.util.List;
import org.junit.jupiter.api.Test;

class SpanDrawingTest {
  private static final Distances SCALE = Distances.codes(Format.signed(8, 8));

  private static SpanDrawing.End at(double distance, int material, boolean reversed) {
    return new SpanDrawing.End(SCALE.of(distance), "m" + material, reversed);
  }

  /** 64 places: closed ends lie in 2 to 61, open ones at the margins. */
  @Test
  void bothListsLieOnOneAxis() {
    List<SpanDrawing.End> expected =
        List.of(at(0, 1, false), at(1, 1, false), at(2, 3, true), at(4, 2, false));
    List<SpanDrawing.End> actual = List.of(at(0, 1, false), at(3, 1, false));
    assertEquals(
        """
        expected    [==============)              [============================)
        actual      [===========================================)
                    0----------------------------------------------------------4
        expected  [0 m1, 1 m1) [2 m3', 4 m2)
        actual    [0 m1, 3 m1)
        """,
        drawn(expected, actual));
  }

  @Test
  void openEndsStandAtTheMarginsAndNothingIsSaidInAWord() {
    List<SpanDrawing.End> all =
        List.of(
            new SpanDrawing.End(SCALE.lowest(), "m0", false),
            at(1.5, 4, false),
            at(2.5, 4, false),
            new SpanDrawing.End(SCALE.highest(), "", false));
    assertEquals(
        """
        expected  <=)                                                          [=>
        actual    nothing
                    1.5------------------------------------------------------2.5
        expected  [open, 1.5 m4) [2.5 m4, open)
        actual    nothing
        """,
        drawn(all, List.of()));
  }

  private static String drawn(List<SpanDrawing.End> expected, List<SpanDrawing.End> actual) {
    StringBuilder text = new StringBuilder();
    SpanDrawing.of(SCALE, expected, actual)
        .forEach(line -> text.append(line.stripTrailing()).append('\n'));
    return text.toString();
  }
}
