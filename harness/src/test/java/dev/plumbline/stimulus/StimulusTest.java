package dev.plumbline.stimulus;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;

class StimulusTest {
  private static final List<Operand> OPERANDS =
      List.of(
          new Operand("teeth", Format.unsigned(3, 0)),
          new Operand("turns", Format.signed(2, 2)),
          new Operand("reverse", Format.bit()));

  @Test
  void exhaustiveCasesRunThroughEveryCombinationOnce() {
    int count = 1 << 8;
    assertEquals(count, Stimulus.exhaustive().size(OPERANDS).getAsLong());
    long[][][] columns = fill(Stimulus.exhaustive(), 0, count);

    Set<List<Long>> seen = new HashSet<>();
    for (int row = 0; row < count; row++) {
      seen.add(List.of(columns[0][0][row], columns[1][0][row], columns[2][0][row]));
    }
    assertEquals(count, seen.size());
    assertTrue(seen.contains(List.of(7L, -8L, 1L)));
    assertArrayEquals(new long[] {0, 1, 0, 1}, java.util.Arrays.copyOf(columns[2][0], 4));
  }

  @Test
  void aSegmentGoesOnWhereTheOneBeforeEnded() {
    long[][][] whole = fill(Stimulus.exhaustive(), 0, 200);
    long[][][] second = fill(Stimulus.exhaustive(), 150, 50);
    for (int operand = 0; operand < 3; operand++) {
      for (int row = 0; row < 50; row++) {
        assertEquals(whole[operand][0][150 + row], second[operand][0][row]);
      }
    }
  }

  @Test
  void listedCasesComeInOrderAndAgain() {
    Stimulus listed = Stimulus.listed(new long[] {1, -2, 0}, new long[] {7, 7, 1});
    long[][][] columns = fill(listed, 3, 4);

    assertEquals(2, listed.size(OPERANDS).getAsLong());
    assertArrayEquals(new long[] {7, 1, 7, 1}, columns[0][0]);
    assertArrayEquals(new long[] {7, -2, 7, -2}, columns[1][0]);
  }

  @Test
  void dependentOperandsCanBeDrawnTogether() {
    Stimulus ordered =
        Stimulus.drawn(
            (stream, words) -> {
              words[0] = stream.below(4);
              words[1] = words[0] + 1;
              words[2] = 3; // one bit too many: dropped
            });
    long[][][] columns = fill(ordered, 0, 100);
    for (int row = 0; row < 100; row++) {
      assertEquals(columns[0][0][row] + 1, columns[1][0][row]);
      assertEquals(1, columns[2][0][row]);
    }
  }

  @Test
  void oneOperandCanBeDrawnByAnotherGenerator() {
    for (Stimulus base : List.of(Stimulus.standard(), Stimulus.exhaustive())) {
      long[][][] columns = fill(base.with("turns", Generator.codes(5)), 0, 100);
      for (long code : columns[1][0]) {
        assertEquals(5, code);
      }
    }
  }

  @Test
  void operandsAndSeedsDrawDifferently() {
    long[][][] columns = fill(Stimulus.each(Generator.uniform()), 0, 64);
    assertTrue(!java.util.Arrays.equals(columns[0][0], columns[2][0]));
  }

  @Test
  void anUnknownOperandIsRefusedWithThoseThereAre() {
    Stimulus wrong = Stimulus.standard().with("tooth", Generator.uniform());
    assertEquals(
        "A generator is given for operand \"tooth\", which there is not; there are teeth, turns,"
            + " reverse.",
        assertThrows(IllegalArgumentException.class, () -> wrong.open(OPERANDS, 1, 0))
            .getMessage());
  }

  @Test
  void aMixDrawsFromAllItsParts() {
    Stimulus mix =
        Stimulus.mix(
            Share.of(1, Stimulus.each(Generator.codes(0))),
            Share.of(1, Stimulus.each(Generator.codes(1))));
    long[][][] columns = fill(mix, 0, 2_000);
    int ones = 0;
    for (int row = 0; row < 2_000; row++) {
      assertEquals(columns[0][0][row], columns[1][0][row], "whole cases are chosen");
      ones += (int) columns[0][0][row];
    }
    assertTrue(ones > 500 && ones < 1_500, "both parts: " + ones);
  }

  private static long[][][] fill(Stimulus stimulus, long firstCase, int count) {
    long[][][] columns = new long[OPERANDS.size()][1][count];
    stimulus.open(OPERANDS, 1, firstCase).fill(columns, 0, count);
    return columns;
  }
}
