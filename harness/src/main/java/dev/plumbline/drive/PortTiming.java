package dev.plumbline.drive;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.ContractException;
import dev.plumbline.contract.PortTimes;
import dev.plumbline.cosim.Clocking;
import dev.plumbline.rtl.Design;
import dev.plumbline.text.Names;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Objects;
import java.util.Set;

/**
 * Which clocks the ports of a bench follow, where its DUT has several and rows end at each rise of
 * any.
 *
 * @param clocking the clocks
 * @param ofCases number of that of the cases among them
 * @param ofResults number of that of the results
 */
public record PortTiming(Clocking clocking, int ofCases, int ofResults) {
  /** Most rows from a rise of a clock to its next. */
  private static final int FARTHEST = 256;

  /**
   * The clocks of a contract's ports.
   *
   * @return null where all ports follow the first of the clocks, whose cycles are the rows then
   */
  static PortTiming of(
      Contract contract,
      Design design,
      Clocking clocking,
      Set<String> casePorts,
      Set<String> resultPorts) {
    List<Clocking.Signal> signals = clocking.signals();
    if (signals.size() < 2) {
      return null;
    }
    PortTimes declared = contract.times();
    List<String> names = signals.stream().map(Clocking.Signal::port).toList();
    String first = names.get(0);
    boolean plain =
        followsOnly(first, declared.cases(), design, casePorts)
            && followsOnly(first, declared.results(), design, resultPorts);
    if (plain) {
      return null;
    }
    PortTiming timing =
        new PortTiming(
            clocking.withRowsAtEveryRise(),
            clock(names, declared.cases(), design, casePorts, "cases"),
            clock(names, declared.results(), design, resultPorts, "results"));
    if (!contract.flow().hasValid() || contract.flow().outValid() == null) {
      throw new ContractException(
          "Ports follow another clock than the first, "
              + first
              + ", and no valid ports mark cases and results; name them in valid(...), or give the"
              + " clock of these ports first.");
    }
    if (timing.mostRows() > FARTHEST) {
      throw new ContractException(
          "Between two rises of a clock there are up to "
              + timing.mostRows()
              + " of the others; "
              + FARTHEST
              + " are allowed. Give clocks whose periods lie closer together.");
    }
    return timing;
  }

  private static boolean followsOnly(
      String clock, String declared, Design design, Set<String> ports) {
    if (declared != null) {
      return declared.equals(clock);
    }
    return ports.stream()
        .map(port -> design.portClocks().get(port))
        .allMatch(followed -> followed == null || followed.equals(clock));
  }

  private static int clock(
      List<String> names, String declared, Design design, Set<String> ports, String what) {
    Set<String> followed = new LinkedHashSet<>();
    if (declared != null) {
      followed.add(declared);
    } else {
      ports.stream()
          .map(port -> design.portClocks().get(port))
          .filter(Objects::nonNull)
          .forEach(followed::add);
    }
    if (followed.size() != 1) {
      throw new ContractException(
          "The ports of "
              + what
              + ", "
              + String.join(", ", ports)
              + ", follow "
              + (followed.isEmpty() ? "no clock that shows" : String.join(" and ", followed))
              + " in the RTL; one clock is allowed for all of them. Say which by clocks(...).");
    }
    String name = followed.iterator().next();
    if (!names.contains(name)) {
      throw new ContractException(
          "The ports of "
              + what
              + " follow \""
              + name
              + "\", which is none of the clocks that are driven; "
              + Names.hint(name, names)
              + ".");
    }
    return names.indexOf(name);
  }

  /** Most rows in which every clock rises at least once. */
  int mostRows() {
    long longest = 0;
    for (Clocking.Signal signal : clocking.signals()) {
      longest = Math.max(longest, signal.period());
    }
    long rows = 0;
    for (Clocking.Signal signal : clocking.signals()) {
      rows += (longest + signal.period() - 1) / signal.period();
    }
    return (int) Math.min(Integer.MAX_VALUE, rows);
  }

  ClockRows rows() {
    return new ClockRows(clocking, ofCases, ofResults);
  }

  /** The clocks that evidence shows: that of the cases, and that of the results where another. */
  public List<String> shown() {
    String cases = clocking.signals().get(ofCases).port();
    String results = clocking.signals().get(ofResults).port();
    return cases.equals(results) ? List.of(cases) : List.of(cases, results);
  }
}
