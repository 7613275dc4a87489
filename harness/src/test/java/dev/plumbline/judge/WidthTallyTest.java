package dev.plumbline.judge;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

class WidthTallyTest {
  @Test
  void nothingSeenIsDistinguishedFromZero() {
    WidthTally tally = new WidthTally();
    assertEquals(-1, tally.median());
    assertEquals(-1, tally.worst());
    assertEquals(-1, tally.shown());
    tally.sample(0, 0, false);
    tally.worst(0);
    assertEquals(0, tally.median());
    assertEquals(0, tally.worst());
    assertEquals(1, tally.shown());
  }

  @Test
  void anErrorIsShownOnceItLeavesTheFartherBound() {
    WidthTally tally = new WidthTally();
    tally.sample(10, 7, false);
    tally.sample(10, 5, false);
    tally.sample(10, 9, false);
    assertEquals(8, tally.shown());
    tally.sampleWrong(10);
    assertEquals(8, tally.shown(), "a wrong result is no good one to add an error to");
  }

  @Test
  void openBoundsShowNoError() {
    WidthTally tally = new WidthTally();
    tally.sample(1, 1, true);
    assertEquals(Long.MAX_VALUE, tally.shown());
    tally.sample(1, 0, false);
    assertEquals(1, tally.shown(), "half would have shown it");
  }

  @Test
  void talliesAddUp() {
    WidthTally left = new WidthTally();
    WidthTally right = new WidthTally();
    left.sample(3, 2, false);
    left.worst(3);
    left.open(1);
    right.sample(5, 4, false);
    right.sample(5, 4, false);
    right.worst(9);
    right.open(2);
    left.add(right);
    assertEquals(5, left.median());
    assertEquals(9, left.worst());
    assertEquals(3, left.open());
    assertEquals(5, left.shown());
  }
}
