package dev.plumbline.regression;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.regression.ParameterRanges.Choice;
import dev.plumbline.rtl.RtlSource;
import java.nio.file.Path;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.junit.jupiter.api.Test;

class ParameterRangesTest {
  private static final ParameterRanges FORMATS =
      ParameterRanges.of("W", 8, 32)
          .and("F", 0, 31)
          .where(values -> values.get("F") < values.get("W"));

  @Test
  void theEndsComeFirstAndTogether() {
    List<String> choices = FORMATS.choices(1, 0).stream().map(Choice::toString).toList();

    assertEquals("W=8 F=0", choices.get(0));
    assertTrue(choices.contains("W=32 F=31"), choices.toString());
    for (String end : List.of("W=8 ", "W=32 ", " F=0", " F=31")) {
      assertTrue(choices.stream().anyMatch(choice -> choice.contains(end)), end + choices);
    }
  }

  @Test
  void choicesFollowFromTheSeedStayWithinTheirRangesAndMeetTheCondition() {
    Set<Choice> seen = new HashSet<>();
    for (long seed = 1; seed <= 100; seed++) {
      List<Choice> choices = FORMATS.choices(seed, 6);
      assertEquals(choices, FORMATS.choices(seed, 6));
      assertEquals(choices.size(), new HashSet<>(choices).size(), choices.toString());
      for (Choice choice : choices) {
        long width = choice.values().get("W");
        long fraction = choice.values().get("F");
        assertTrue(8 <= width && width <= 32 && 0 <= fraction && fraction < width, "" + choice);
      }
      seen.addAll(choices);
    }
    // Of 500 pairs that are allowed.
    assertTrue(seen.size() > 250, seen.size() + " choices");
    assertNotEquals(FORMATS.choices(1, 6), FORMATS.choices(2, 6));
  }

  @Test
  void sizesOfAWideRangeAreAllDrawn() {
    Set<Integer> sizes = new HashSet<>();
    ParameterRanges.of("DEPTH", 1, 1L << 40)
        .choices(7, 2000)
        .forEach(choice -> sizes.add(Long.numberOfLeadingZeros(choice.values().get("DEPTH") - 1)));
    assertTrue(sizes.size() >= 40, sizes.toString());
  }

  @Test
  void aRangeOfOneValueAndMoreChoicesThanThereAreEnd() {
    assertEquals(
        List.of(new Choice(Map.of("N", 4L))), ParameterRanges.of("N", 4, 4).choices(1, 10));
    assertEquals(3, ParameterRanges.of("N", -1, 1).choices(1, 10).size());
  }

  @Test
  void aChoiceIsSetOnASource() {
    RtlSource rtl = RtlSource.of(Path.of("gear_train.sv"));
    assertEquals(Map.of("W", "8", "F", "0"), FORMATS.choices(1, 0).get(0).on(rtl).parameters());
  }

  @Test
  void rangesThatCannotBeAreRefused() {
    assertThrows(IllegalArgumentException.class, () -> ParameterRanges.of("W", 2, 1));
    assertThrows(IllegalArgumentException.class, () -> FORMATS.and("W", 1, 2));
    assertThrows(
        IllegalArgumentException.class,
        () -> ParameterRanges.of("W", Long.MIN_VALUE, Long.MAX_VALUE));
    assertThrows(
        IllegalArgumentException.class, () -> FORMATS.where(values -> false).choices(1, 3));
  }
}
