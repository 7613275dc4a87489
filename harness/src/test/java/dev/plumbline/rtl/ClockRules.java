package dev.plumbline.rtl;

import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.rtl.Clock.Edge;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

/** Which ports are clocks and which are asynchronous resets. */
interface ClockRules extends Reading {
  private Map<String, Edge> clocks(String design) {
    return read(design).clocks().stream().collect(Collectors.toMap(Clock::port, Clock::edge));
  }

  private Map<String, Boolean> activeLow(String design) {
    return read(design).asyncResets().stream()
        .collect(Collectors.toMap(AsyncReset::port, AsyncReset::activeLow));
  }

  @Test
  default void everyPortThatTicksAnythingIsAClockAndNothingElseIs() {
    assertEquals(
        List.of(
            "clk",
            "falling",
            "inverted",
            "twice",
            "both",
            "either",
            "pick0",
            "pick1",
            "row0",
            "row1",
            "checked"),
        read("gearbox").clocks().stream().map(Clock::port).toList());
  }

  @Test
  default void anAliasOfAClockIsThatClock() {
    assertEquals(Edge.RISING, clocks("gearbox").get("clk"));
  }

  @Test
  default void aClockHasTheEdgeOfItsSensitivityLists() {
    assertEquals(Edge.FALLING, clocks("gearbox").get("falling"));
  }

  @Test
  default void anInversionOnTheWayTurnsTheEdgeAndASecondOneTurnsItBack() {
    assertEquals(Edge.FALLING, clocks("gearbox").get("inverted"));
    assertEquals(Edge.RISING, clocks("gearbox").get("twice"));
  }

  @Test
  default void aClockUsedOnBothEdgesSaysSo() {
    assertEquals(Edge.BOTH, clocks("gearbox").get("both"));
    assertEquals(Edge.BOTH, clocks("gearbox").get("either"));
  }

  /** IEEE 1800-2017, 23.3.3.5: an array of instances takes a vector apart, right for right. */
  @Test
  default void clocksAreFoundThroughVectorsAndArraysOfInstances() {
    Map<String, Edge> clocks = clocks("gearbox");
    assertEquals(Edge.FALLING, clocks.get("pick0"));
    for (String port : List.of("pick1", "row0", "row1")) {
      assertEquals(Edge.RISING, clocks.get(port), port);
    }
  }

  @Test
  default void theClockOfAnAssertionIsAClock() {
    assertEquals(Edge.RISING, clocks("gearbox").get("checked"));
  }

  @Test
  default void whatOnlyGatesOrSelectsAKnownClockIsNone() {
    Map<String, Edge> clocks = clocks("gearbox");
    for (String port : List.of("enable", "test", "spare", "select")) {
      assertEquals(null, clocks.get(port), port);
    }
  }

  @Test
  default void behindAGateWithNoClockKnownAllItsInputsAreCandidates() {
    assertEquals(Map.of("clk", Edge.RISING, "enable", Edge.RISING), clocks("winding"));
  }

  @Test
  default void theLatchOfAClockGateKeepsItsEnableFromBeingACandidate() {
    assertEquals(Map.of("clk", Edge.RISING), clocks("ratchet"));
  }

  /** IEEE 1800-2017, 23.3.3.5, of an array of interfaces. */
  @Test
  default void clocksAreFoundThroughInterfacesInArraysAndGenerateScopes() {
    assertEquals(
        Map.of("left", Edge.RISING, "right", Edge.FALLING, "alone", Edge.RISING),
        clocks("lantern"));
  }

  @Test
  default void logicAndLatchesHaveNoClock() {
    assertEquals(List.of(), read("lens").clocks());
    assertEquals(List.of(), read("lens").asyncResets());
  }

  @Test
  default void clockAndResetAreFoundThroughInterfaces() {
    assertEquals(Map.of("tick", Edge.RISING), clocks("shutter"));
    assertEquals(Map.of("night", false), activeLow("shutter"));
  }

  @Test
  default void whatABlockTestsFirstIsAResetWithThePolarityOfItsEdge() {
    assertEquals(true, activeLow("gearbox").get("rst_n"));
    assertEquals(false, activeLow("gearbox").get("set"));
  }

  @Test
  default void anInversionOnTheWayTurnsThePolarityOfAReset() {
    assertEquals(false, activeLow("gearbox").get("wired"));
  }

  @Test
  default void eachOfSeveralPortsThatMakeOneResetIsAReset() {
    assertEquals(false, activeLow("gearbox").get("any_a"));
    assertEquals(false, activeLow("gearbox").get("any_b"));
  }

  @Test
  default void resetsComeInPortOrderAndASynchronousOneIsNotAmongThem() {
    assertEquals(
        List.of("rst_n", "set", "wired", "any_a", "any_b"),
        read("gearbox").asyncResets().stream().map(AsyncReset::port).toList());
  }

  @Test
  default void eachClockTellsASensitivityListThatUsesIt() {
    Clock falling =
        read("gearbox").clocks().stream()
            .filter(it -> it.port().equals("falling"))
            .findFirst()
            .get();

    assertEquals("gearbox.sv:82", Reading.line(falling.location()));
  }
}
