package dev.plumbline.bus;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.cosim.DutException;
import dev.plumbline.cosim.DutOptions;
import dev.plumbline.cosim.InitialState;
import dev.plumbline.verdict.Checked;
import dev.plumbline.verdict.Fact;
import dev.plumbline.verdict.Findings;
import dev.plumbline.verdict.Inside;
import dev.plumbline.verdict.Layout;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Origin;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Verdict;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalInt;
import java.util.function.Function;

/**
 * Holds a DUT to a register file in text, as a bench with a verdict: each register by itself first,
 * as {@link RegisterFile#run(Bus)} does, then accesses by chance.
 *
 * <pre>{@code
 * RegisterBench.of(model, RegisterFile.read(Path.of("rtl/desk.registers")))
 *     .reached(dut -> {
 *       dut.set("rst", 1);
 *       dut.cycles(2);
 *       dut.set("rst", 0);
 *       return Bus.of(dut).withAddress("adr").withData("wdat", "rdat").withStrobe("sel", "we");
 *     })
 *     .cases(10_000)
 *     .check();
 * }</pre>
 *
 * <p>Registers begin with any values, which the reset has to mend.
 */
public final class RegisterBench {
  private static final long CASES = 10_000;

  private final CompiledDesign model;
  private final RegisterFile registers;
  private String name;
  private Function<Dut, Bus> reached;
  private long cases = CASES;
  private long seed = 1;
  private Recorder recorder = Recorder.none();
  private String repeat = "";

  private RegisterBench(CompiledDesign model, RegisterFile registers) {
    this.model = model;
    this.registers = registers;
    this.name = model.design().top();
  }

  /**
   * Starts a bench.
   *
   * @param model whatever has the registers
   * @param registers what they are
   * @return a bench that still needs to know how they are reached
   */
  public static RegisterBench of(CompiledDesign model, RegisterFile registers) {
    return new RegisterBench(model, registers);
  }

  /**
   * Names the bench.
   *
   * @param bench the name; the top module's unless set
   * @return this bench
   */
  public RegisterBench named(String bench) {
    name = bench;
    return this;
  }

  /**
   * Sets how registers are reached.
   *
   * @param steps reset a DUT, and give the bus to it; done twice
   * @return this bench
   */
  public RegisterBench reached(Function<Dut, Bus> steps) {
    reached = steps;
    return this;
  }

  /**
   * Sets the number of accesses by chance.
   *
   * @param count 1 or more; ten thousand unless set
   * @return this bench
   */
  public RegisterBench cases(long count) {
    cases = count;
    return this;
  }

  /**
   * Sets what chance follows from.
   *
   * @param value any; 1 unless set
   * @return this bench
   */
  public RegisterBench seed(long value) {
    seed = value;
    return this;
  }

  /**
   * Sets the recorder that keeps the verdict.
   *
   * @param keeper the recorder; none unless set
   * @return this bench
   */
  public RegisterBench recorder(Recorder keeper) {
    recorder = keeper;
    return this;
  }

  /**
   * Sets the command that repeats the run, which failures print.
   *
   * @param command the command
   * @return this bench
   */
  public RegisterBench repeat(String command) {
    repeat = command;
    return this;
  }

  /**
   * Runs it and records the verdict.
   *
   * @return what was found
   * @throws BusException when it is not said how registers are reached
   * @throws RuntimeException what the DUT threw, when it ended by itself; that verdict is recorded
   *     as well
   */
  public Verdict run() {
    if (reached == null) {
      throw new BusException(
          "RegisterBench on module \""
              + model.design().top()
              + "\" does not know how registers are reached; set .reached(dut -> ...).");
    }
    List<Wrong> found = new ArrayList<>();
    DutException ended = null;
    long started = System.nanoTime();
    long cycles;
    String text;
    DutOptions options = DutOptions.defaults().withInitialState(InitialState.RANDOM);
    try (Dut dut = model.open(options.withSeed(seed))) {
      try {
        found.addAll(registers.find(reached.apply(dut)));
        if (found.isEmpty()) {
          found.addAll(registers.find(reached.apply(dut), cases, seed));
        }
      } catch (BusException e) {
        found.add(new Wrong(e.getMessage(), "acknowledge", dut.cyclesRun(), 0, 1));
      } catch (DutException e) {
        ended = e;
      }
      cycles = dut.cyclesRun();
      text = dut.text();
    }
    Checked checked = Checked.of(cases, cycles, (System.nanoTime() - started) / 1e9);
    Origin origin = new Origin(seed, model.contentHash(), repeat);
    return recorder.keep(verdict(found, ended, checked, origin, text), ended);
  }

  private Verdict verdict(
      List<Wrong> found, DutException ended, Checked checked, Origin origin, String text) {
    Verdict.Outcome outcome =
        ended != null
            ? Verdict.Outcome.DUT_ENDED
            : found.isEmpty() ? Verdict.Outcome.PASS : Verdict.Outcome.MISMATCH;
    List<Fact> facts =
        found.stream().map(wrong -> new Fact("register", wrong.told().lines().toList())).toList();
    List<Mismatch> kept =
        outcome == Verdict.Outcome.MISMATCH
            ? found.stream().map(RegisterBench::mismatch).toList()
            : List.of();
    Findings findings =
        new Findings(
            -1,
            found.size(),
            kept,
            Layout.NOTHING,
            List.of(),
            facts,
            List.of(),
            text,
            Inside.NOTHING);
    String explanation = ended == null ? "" : String.valueOf(ended.getMessage());
    return Verdict.of(name, outcome, explanation, checked, origin, findings);
  }

  private static BigInteger unsigned(long bits) {
    return new BigInteger(Long.toUnsignedString(bits));
  }

  private static Mismatch mismatch(Wrong wrong) {
    BigInteger due = unsigned(wrong.due());
    return new Mismatch(
        Mismatch.Kind.VALUE_WRONG,
        0,
        wrong.cycle(),
        -1,
        wrong.what(),
        OptionalInt.empty(),
        unsigned(wrong.got()),
        due,
        due);
  }

  /**
   * Runs it, and fails unless all is well.
   *
   * @return the verdict, a pass
   * @throws org.opentest4j.AssertionFailedError with the facts
   * @throws RuntimeException as {@link #run}
   */
  public Verdict check() {
    return run().orFail();
  }
}
