package dev.plumbline.drive;

import dev.plumbline.contract.Beats;
import dev.plumbline.contract.Contract;
import dev.plumbline.contract.ContractException;
import dev.plumbline.contract.Flow;
import dev.plumbline.contract.Reset;
import dev.plumbline.cosim.Clocking;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.rtl.AsyncReset;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import dev.plumbline.verdict.Layout;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.stream.IntStream;
import java.util.stream.Stream;

/** A contract joined to a design: the one place where ports are looked for and held to formats. */
public final class Binding {
  private final Contract contract;
  private final Design design;
  private final Optional<Clocking> clocking;
  private final PortFinder finder;
  private final HeldPorts held;
  private final List<PortRef> inputs = new ArrayList<>(); // by operand
  private final List<PortRef> outputs = new ArrayList<>(); // by check
  private final OutputCheck[] checks;
  private final Layout layout;
  private final PortTiming timing;

  private Binding(Contract contract, Design design, Optional<Clocking> clocking) {
    this.contract = contract;
    this.design = design;
    this.clocking = clocking;
    this.finder = PortFinder.of(design);
    for (Operand operand : contract.reference().inputs()) {
      Beats.Slot slot = contract.beats().slots().get(operand.name());
      String named = slot == null ? contract.inputPorts().get(operand.name()) : slot.port();
      inputs.add(find(operand, named, "in_", Port.Direction.INPUT));
    }
    requireRoom();
    this.checks = makeChecks();
    checkControls();
    this.held = new HeldPorts(finder, contract.held());
    Set<String> driven = driven();
    contract.idle().ifPresent(idle -> held.others(finder, driven, idle));
    requireEveryInput(driven);
    this.timing = clocking.map(this::timing).orElse(null);
    this.layout = layOut();
  }

  public static Binding of(Contract contract, Design design) {
    return of(contract, design, Optional.empty());
  }

  /** With the clocks, where they are declared. */
  public static Binding of(Contract contract, Design design, Optional<Clocking> clocking) {
    return new Binding(contract, design, clocking);
  }

  /** The same, with another promise of when results come. */
  public Binding within(Flow flow) {
    return new Binding(contract.withFlow(flow), design, clocking);
  }

  private PortTiming timing(Clocking clocking) {
    Flow flow = contract.flow();
    Set<String> ofCases = new LinkedHashSet<>();
    Set<String> ofResults = new LinkedHashSet<>();
    inputs.forEach(port -> ofCases.add(port.port().name()));
    outputs.forEach(port -> ofResults.add(port.port().name()));
    Stream.of(flow.inValid(), flow.inReady())
        .filter(Objects::nonNull)
        .map(PortRef::plain)
        .forEach(ofCases::add);
    Stream.of(flow.outValid(), flow.outReady())
        .filter(Objects::nonNull)
        .map(PortRef::plain)
        .forEach(ofResults::add);
    return PortTiming.of(contract, design(), clocking, ofCases, ofResults);
  }

  /** Which clocks the ports follow; null where every row is a cycle for all of them. */
  public PortTiming timing() {
    return timing;
  }

  /** The clocks with which the DUT is opened, where rows are no cycles of the first. */
  public Optional<Clocking> clocking() {
    return Optional.ofNullable(timing).map(PortTiming::clocking);
  }

  /** Rows in which every clock rises as often as cycles are given. */
  public int rowsOf(int cycles) {
    return timing == null ? cycles : Math.multiplyExact(cycles, timing.mostRows());
  }

  public Contract contract() {
    return contract;
  }

  /** Whether each row of cases has its row of results, a number of cycles on. */
  public boolean isFixed() {
    return timing == null && contract.flow().isFixed() && contract.reference().givesOneForEach();
  }

  public Design design() {
    return finder.design();
  }

  List<PortRef> inputs() {
    return inputs;
  }

  List<PortRef> outputs() {
    return outputs;
  }

  public OutputCheck[] checks() {
    return checks;
  }

  private OutputCheck[] makeChecks() {
    List<Operand> operands = contract.reference().outputs();
    List<Operand> checked =
        operands.stream().filter(operand -> !contract.ignored().contains(operand.name())).toList();
    OutputCheck[] made = new OutputCheck[checked.size()];
    for (int c = 0; c < made.length; c++) {
      Operand operand = checked.get(c);
      String named = contract.outputPorts().get(operand.name());
      PortRef port = find(operand, named, "out_", Port.Direction.OUTPUT);
      outputs.add(port);
      long tolerance = contract.tolerances().getOrDefault(operand.name(), 0L);
      String flag = contract.flags().get(operand.name());
      made[c] =
          new OutputCheck(
              operands.indexOf(operand),
              operand,
              port.text(),
              tolerance,
              contract.reference().isExact() && tolerance == 0,
              flag == null ? -1 : checked.stream().map(Operand::name).toList().indexOf(flag),
              contract.unless().contains(operand.name()),
              contract.otherwise().get(operand.name()));
    }
    return made;
  }

  public Layout layout() {
    return layout;
  }

  /** Words of an input operand. */
  int words(int input) {
    return contract.reference().inputs().get(input).format().words();
  }

  public Beats beats() {
    return contract.beats();
  }

  /** The beat of an input operand. */
  int beat(int input) {
    return beats().of(contract.reference().inputs().get(input).name());
  }

  /** What an engine calls the column of an input operand: a port may carry several in turn. */
  String inputColumn(int input) {
    return beats().areSeveral()
        ? "operand " + contract.reference().inputs().get(input).name()
        : inputs.get(input).text();
  }

  /** Whether an operand is not a whole port of its own, read as it is declared. */
  public boolean needsPacking() {
    Flow flow = contract.flow();
    if (beats().areSeveral()
        || Stream.of(flow.inValid(), flow.inReady(), flow.outValid(), flow.outReady())
            .anyMatch(PortRef::isFlipped)) {
      return true;
    }
    List<Operand> operands = contract.reference().inputs();
    for (int i = 0; i < inputs.size(); i++) {
      if (!PackingEngine.isPlain(inputs.get(i), operands.get(i).format())) {
        return true;
      }
    }
    for (int c = 0; c < checks.length; c++) {
      if (!PackingEngine.isPlain(outputs.get(c), checks[c].operand().format())) {
        return true;
      }
    }
    return false;
  }

  /** What ports are held at by chance in a segment; none where nothing is. */
  public Map<String, BigInteger> heldByChance(Segment segment) {
    return held.byChance(segment);
  }

  /** Fills the columns of held ports. */
  void hold(Engine engine, Segment segment) {
    for (String mark : beats().marks().keySet()) {
      Arrays.fill(engine.column(mark, 0), 1); // for good where a case has one beat
    }
    held.fill(engine, segment);
  }

  /** Two operands on the same bits at once would overwrite each other. */
  private void requireRoom() {
    List<Operand> operands = contract.reference().inputs();
    for (int i = 0; i < inputs.size(); i++) {
      for (int j = 0; j < i; j++) {
        if (inputs.get(i).overlaps(inputs.get(j)) && Beats.meet(beat(i), beat(j))) {
          throw new ContractException(
              inputs.get(i).port().location(),
              "Operands \""
                  + operands.get(j).name()
                  + "\" on "
                  + label(j)
                  + " and \""
                  + operands.get(i).name()
                  + "\" on "
                  + label(i)
                  + " have bits in common at the same time; give each bits or a beat of its own.");
        }
      }
    }
  }

  /** What people see of the place of an input operand. */
  private String label(int input) {
    String text = inputs.get(input).text();
    return beats().areSeveral() && beat(input) != Beats.EVERY ? text + "_beat" + beat(input) : text;
  }

  private PortRef find(Operand operand, String named, String prefix, Port.Direction direction) {
    String text = named;
    if (text == null) {
      String longer = prefix + operand.name();
      text =
          finder.design().findPort(operand.name()).isEmpty()
                  && finder.design().findPort(longer).isPresent()
              ? longer
              : operand.name();
    }
    PortRef port = finder.find(text);
    if (direction == Port.Direction.INPUT && beats().slots().containsKey(operand.name())) {
      port = port.lowest(operand.format().width());
    }
    finder.requireDirection(port, direction, "operand \"" + operand.name() + "\"");
    Format format = operand.format();
    boolean signFits =
        format.signed() == port.signed() || contract.signsFromFormats() || !port.isWhole();
    if (format.width() != port.width()) {
      throw new ContractException(
          port.port().location(),
          "Port "
              + text
              + " has "
              + port.width()
              + " bits; operand \""
              + operand.name()
              + "\" has "
              + format.width()
              + " in its format "
              + format
              + ". Give the reference the format of the port, or set the width by a parameter of"
              + " the RTL.");
    }
    if (!signFits) {
      throw new ContractException(
          port.port().location(),
          "Port "
              + text
              + " is declared "
              + (port.signed() ? "signed" : "without signed")
              + "; operand \""
              + operand.name()
              + "\" has the "
              + (format.signed() ? "signed" : "unsigned")
              + " format "
              + format
              + ". Say signsFromFormats() in the contract if the RTL means the same bits.");
    }
    return port;
  }

  private void checkControls() {
    Flow flow = contract.flow();
    control(flow.inValid(), Port.Direction.INPUT, "valid of the cases");
    control(flow.inReady(), Port.Direction.OUTPUT, "ready for cases");
    control(flow.outValid(), Port.Direction.OUTPUT, "valid of the results");
    control(flow.outReady(), Port.Direction.INPUT, "ready for results");
    control(contract.reset().port(), Port.Direction.INPUT, "the reset");
    for (Reset.Line line : contract.reset().further()) {
      control(line.port(), Port.Direction.INPUT, "a reset");
    }
    for (String mark : beats().marks().keySet()) {
      control(mark, Port.Direction.INPUT, "a mark of beats");
    }
    Map<String, Boolean> activeLow = new HashMap<>();
    activeLow.put(contract.reset().port(), contract.reset().activeLow());
    contract.reset().further().forEach(line -> activeLow.put(line.port(), line.activeLow()));
    for (AsyncReset reset : design().asyncResets()) {
      if (activeLow.getOrDefault(reset.port(), reset.activeLow()) != reset.activeLow()) {
        throw new ContractException(
            reset.location(),
            "Reset "
                + reset.port()
                + " is asserted "
                + (reset.activeLow() ? "low" : "high")
                + " by the RTL; the contract says "
                + (reset.activeLow() ? "high. Use resetLow(...)." : "low. Use reset(...)."));
      }
    }
    if (design().clocks().isEmpty() && (flow.mostLatency() > 0)) {
      throw new ContractException(
          "Module "
              + design().top()
              + " has no clock, so that its results come in the same evaluation; the contract says"
              + " a latency of "
              + flow.mostLatency()
              + " cycles. Leave the latency at 0.");
    }
  }

  private void control(String text, Port.Direction direction, String what) {
    if (text == null) {
      return;
    }
    PortRef port = finder.find(PortRef.plain(text));
    finder.requireDirection(port, direction, what);
    finder.requireBit(port, what);
  }

  /** An input that nobody drives would silently be 0. */
  private void requireEveryInput(Set<String> driven) {
    held.ports().forEach(port -> driven.add(port.port().name()));
    finder.requireEveryInput(
        driven,
        "connect an operand, name it as valid, ready or reset, hold(...) it at a value, or all such"
            + " by holdOthers(...).");
  }

  private Set<String> driven() {
    Set<String> driven = new HashSet<>();
    inputs.forEach(port -> driven.add(port.port().name()));
    held.ports().forEach(port -> driven.add(port.port().name()));
    driven.addAll(beats().marks().keySet());
    driven.add(PortRef.plain(contract.flow().inValid()));
    driven.add(PortRef.plain(contract.flow().outReady()));
    driven.add(contract.reset().port());
    contract.reset().further().forEach(line -> driven.add(line.port()));
    return driven;
  }

  private Layout layOut() {
    Flow flow = contract.flow();
    List<String> controls = new ArrayList<>(timing == null ? List.of() : timing.shown());
    for (String port :
        new String[] {
          contract.reset().port(), flow.inValid(), flow.inReady(), flow.outValid(), flow.outReady()
        }) {
      if (port != null) {
        controls.add(port);
      }
    }
    List<Operand> checked = new ArrayList<>();
    for (OutputCheck check : checks) {
      checked.add(check.operand());
    }
    return new Layout(
        controls,
        contract.reference().inputs(),
        IntStream.range(0, inputs.size()).mapToObj(this::label).toList(),
        checked,
        outputs.stream().map(PortRef::text).toList());
  }
}
