package dev.plumbline.window;

import dev.plumbline.cosim.DutEndedException;
import dev.plumbline.cosim.DutException;
import dev.plumbline.cosim.Oscillation;
import dev.plumbline.verdict.Fact;
import dev.plumbline.verdict.Layout;
import dev.plumbline.verdict.Row;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * What is known of a DUT that ended by itself: the line of the RTL, the cycle, what it was given.
 */
public final class EndFacts {
  private EndFacts() {}

  /** What ended a DUT, and where, in a few words. */
  public static String brief(DutException end) {
    return end instanceof DutEndedException ended ? ended.brief() : "hung";
  }

  /** Of logic that never settled: the signals that change for ever. */
  public static Optional<Fact> oscillation(DutException end, Supplier<List<String>> signals) {
    return Oscillation.words(end, signals).map(words -> Fact.of("oscillate", words));
  }

  public static List<Fact> of(DutException end, long segment, Layout layout, Recording recording) {
    List<Fact> facts = new ArrayList<>();
    if (end instanceof DutEndedException ended && !ended.location().file().isEmpty()) {
      facts.add(Fact.of("source", ended.location().toString()));
    }
    facts.add(Fact.of("cycle", end.cycle() + " of segment " + segment));
    Map.Entry<Long, Row> last = recording.streams().get(0).rows().lastEntry();
    if (last == null) {
      return facts;
    }
    Row row = last.getValue();
    facts.add(Fact.of("case", row.caseIn() < 0 ? "none offered" : row.caseIn() + " offered"));
    if (!row.inputs().isEmpty()) {
      facts.add(Fact.inputs(layout.inputs(), row));
    }
    return facts;
  }
}
