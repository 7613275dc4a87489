package dev.plumbline.contract;

import dev.plumbline.check.Bench;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * What a block promises: which port carries which operand, in how many cycles, with which flow
 * control, and the reference its results are held to.
 *
 * <pre>{@code
 * Contract contract = Contract.of(Reference.bounded(datapath))
 *     .valid("in_valid", "out_valid").reset("rst").latency(14)
 *     .output("distance", "out_t").validWhen("distance", "hit")
 *     .build();
 * }</pre>
 *
 * <p>An operand that is not connected by name is looked for as a port of its own name, then with
 * {@code in_} or {@code out_} before it. A port may be written as it would be in Verilog: {@code
 * table[3]} is an element of an array, {@code bus[31:0]} are bits of a vector, {@code ray.x} is a
 * member of a packed struct; a valid or ready that is 0 where it should say 1 is written {@code
 * !full}. Contradictions among the promises are refused by {@link Builder#build}; whether the ports
 * are there and fit is checked when a {@link Bench} joins the contract to a model.
 *
 * <p>Latency counts cycles: an input accepted in cycle n appears at the outputs sampled in cycle n
 * + latency. Without a valid port every cycle is a case.
 */
public final class Contract {
  private final Terms promises;
  private final Flow flow;

  private Contract(Terms promises, Flow flow) {
    this.promises = promises;
    this.flow = flow;
  }

  /**
   * Starts a contract.
   *
   * @param reference what the results are held to
   * @return a builder: latency 0, no valid, no reset
   */
  public static Builder of(Reference reference) {
    return new Builder(reference);
  }

  /**
   * What the results are held to.
   *
   * @return the reference
   */
  public Reference reference() {
    return promises.reference();
  }

  /**
   * The ports that were named for operands.
   *
   * @return port by operand
   */
  public Map<String, String> inputPorts() {
    return promises.inputPorts();
  }

  /**
   * The ports that were named for results.
   *
   * @return port by result
   */
  public Map<String, String> outputPorts() {
    return promises.outputPorts();
  }

  /**
   * The results that are not checked.
   *
   * @return their names
   */
  public Set<String> ignored() {
    return promises.ignored();
  }

  /**
   * The ports that are held at a constant.
   *
   * @return code by port
   */
  public Map<String, BigInteger> held() {
    return promises.held();
  }

  /**
   * The tolerances.
   *
   * @return LSB by result
   */
  public Map<String, Long> tolerances() {
    return promises.tolerances();
  }

  /**
   * The results that count only when a flag is set.
   *
   * @return flag by result
   */
  public Map<String, String> flags() {
    return promises.flags();
  }

  /**
   * What results that count only when a flag is set are held to when it is not.
   *
   * @return code by result; a result that is not there may then be anything
   */
  public Map<String, Long> otherwise() {
    return promises.otherwise();
  }

  /**
   * When results come, and who may make whom wait.
   *
   * @return the flow
   */
  public Flow flow() {
    return flow;
  }

  /**
   * The same promises but for when results come.
   *
   * @param other the other flow
   * @return a copy
   */
  public Contract withFlow(Flow other) {
    return new Contract(promises, other);
  }

  /**
   * The same promises of another reference, with operands of the same names.
   *
   * @param other the other reference
   * @return a copy
   * @throws ContractException when the promises name an operand that it does not have
   */
  public Contract withReference(Reference other) {
    Contract contract = new Contract(promises.withReference(other), flow);
    TermsCheck.check(contract);
    return contract;
  }

  /**
   * How operands are spread over beats.
   *
   * @return the beats
   */
  public Beats beats() {
    return promises.beats();
  }

  /**
   * How the block is reset.
   *
   * @return the reset
   */
  public Reset reset() {
    return promises.reset();
  }

  /**
   * Which clocks the ports follow.
   *
   * @return the clocks, as far as they are declared
   */
  public PortTimes times() {
    return promises.times();
  }

  /**
   * The results that count only where their flag is 0.
   *
   * @return their names
   */
  public Set<String> unless() {
    return promises.cases().unless();
  }

  /**
   * What the block may rely on of its cases.
   *
   * @return in the order in which it was said
   */
  public List<Assumption> assumptions() {
    return promises.cases().assumptions();
  }

  /**
   * What inputs are held at that nothing names.
   *
   * @return empty where there may be none
   */
  public Optional<Idle> idle() {
    return Optional.ofNullable(promises.cases().idle());
  }

  /**
   * Whether a case is one that the block may be given.
   *
   * @param inputs codes, operand after operand, each in its words
   * @return true when all assumptions hold
   */
  public boolean allows(long[] inputs) {
    for (Assumption assumption : assumptions()) {
      if (!assumption.holds().test(inputs)) {
        return false;
      }
    }
    return true;
  }

  /**
   * Whether signs are taken from the formats of the reference, whatever the ports are declared.
   *
   * @return true where formats decide
   */
  public boolean signsFromFormats() {
    return promises.signsFromFormats();
  }

  /** Collects the promises of a contract. */
  public static final class Builder extends FlowTerms<Builder> {
    private final Reference reference;
    private final Map<String, String> inputPorts = new LinkedHashMap<>();
    private final Map<String, String> outputPorts = new LinkedHashMap<>();
    private final Set<String> ignored = new LinkedHashSet<>();
    private final Map<String, BigInteger> held = new LinkedHashMap<>();
    private final Map<String, Long> tolerances = new LinkedHashMap<>();
    private final Map<String, String> flags = new LinkedHashMap<>();
    private final Map<String, Long> otherwise = new LinkedHashMap<>();
    private final Set<String> unless = new LinkedHashSet<>();
    private final List<Assumption> assumptions = new ArrayList<>();
    private Idle idle; // null where every input has to be named
    private Beats beats = Beats.ONE;
    private boolean signsFromFormats;

    private Builder(Reference reference) {
      this.reference = reference;
    }

    @Override
    Builder self() {
      return this;
    }

    /**
     * Connects an input of the reference.
     *
     * @param operand the input's name
     * @param port the port that carries it
     * @return this builder
     */
    public Builder input(String operand, String port) {
      inputPorts.put(operand, port);
      return this;
    }

    /**
     * Connects inputs of the reference that come one after the other; valid ports are needed.
     *
     * @param spread which input comes where and when
     * @return this builder
     */
    public Builder beats(Beats spread) {
      beats = spread;
      return this;
    }

    /**
     * Connects an output of the reference.
     *
     * @param operand the output's name
     * @param port the port that carries it
     * @return this builder
     */
    public Builder output(String operand, String port) {
      outputPorts.put(operand, port);
      return this;
    }

    /**
     * Leaves an output of the reference unchecked, because the block has no port for it.
     *
     * @param operand the output's name
     * @return this builder
     */
    public Builder ignoring(String operand) {
      ignored.add(operand);
      return this;
    }

    /**
     * Holds an input port at one value for the whole run, such as a mode or an enable.
     *
     * @param port the port
     * @param code its value
     * @return this builder
     */
    public Builder hold(String port, long code) {
      held.put(port, BigInteger.valueOf(code));
      return this;
    }

    /**
     * Allows an output to be off by some LSB beyond what the reference allows.
     *
     * @param operand the output's name
     * @param lsbs 0 or more, in units of the output format's LSB
     * @return this builder
     */
    public Builder tolerance(String operand, long lsbs) {
      tolerances.put(operand, lsbs);
      return this;
    }

    /**
     * Makes an output count only while a flag among the outputs is 1.
     *
     * @param operand the output's name
     * @param flag the name of a one-bit output
     * @return this builder
     */
    public Builder validWhen(String operand, String flag) {
      flags.put(operand, flag);
      unless.remove(operand);
      otherwise.remove(operand);
      return this;
    }

    /**
     * Makes an output count only while a flag among the outputs is 1, and be one code where it is
     * 0, as a block that promises 0 for a miss.
     *
     * <pre>{@code
     * contract.validWhen("entry", "hit", 0);
     * }</pre>
     *
     * @param operand the output's name; its format has up to 62 bits
     * @param flag the name of a one-bit output
     * @param otherwise the code of the output where the flag is 0, one of its format
     * @return this builder
     */
    public Builder validWhen(String operand, String flag, long otherwise) {
      flags.put(operand, flag);
      unless.remove(operand);
      this.otherwise.put(operand, otherwise);
      return this;
    }

    /**
     * Makes an output count only while a flag among the outputs is 0, as one that says overflow.
     *
     * @param operand the output's name
     * @param flag the name of a one-bit output
     * @return this builder
     */
    public Builder countsUnless(String operand, String flag) {
      flags.put(operand, flag);
      unless.add(operand);
      otherwise.remove(operand);
      return this;
    }

    /**
     * Promises to the block that an input lies between two values; no others are drawn.
     *
     * @param operand the input's name; its format has up to 62 bits
     * @param least inclusive, in the units of the format
     * @param most inclusive
     * @return this builder
     */
    public Builder assumeBetween(String operand, double least, double most) {
      assumptions.add(InputRange.of(reference, operand, least, most));
      return this;
    }

    /**
     * Promises to the block what holds of its cases; others are not drawn. What stands on its
     * inputs where there is no case may be anything.
     *
     * @param words what is promised, for messages
     * @param holds whether a case is one of those; called by several threads at once
     * @return this builder
     */
    public Builder assume(String words, Assumption.CasePredicate holds) {
      assumptions.add(new Assumption(words, holds));
      return this;
    }

    /**
     * Holds every input that nothing names at one value for the whole run.
     *
     * @param code the value, of which each takes as many bits as it has: 0 for zeros, -1 for ones
     * @return this builder
     */
    public Builder holdOthers(long code) {
      idle = new Idle(false, code);
      return this;
    }

    /**
     * Holds every input that nothing names at a value by chance, another in each segment of a run:
     * they must make no difference.
     *
     * @return this builder
     */
    public Builder holdOthersAtRandom() {
      idle = new Idle(true, 0);
      return this;
    }

    /**
     * Reads ports as their operand's format declares, whether or not they are declared {@code
     * signed}; for RTL that keeps signed numbers in plain vectors.
     *
     * @return this builder
     */
    public Builder signsFromFormats() {
      signsFromFormats = true;
      return this;
    }

    /**
     * Makes the contract.
     *
     * @return the contract
     * @throws ContractException when the promises contradict each other or name an operand that is
     *     not there
     */
    public Contract build() {
      Contract contract =
          new Contract(
              new Terms(
                  reference,
                  inputPorts,
                  outputPorts,
                  ignored,
                  held,
                  tolerances,
                  flags,
                  otherwise,
                  beats,
                  reset(),
                  times(),
                  signsFromFormats,
                  new Terms.Cases(unless, assumptions, idle)),
              flow(beats));
      TermsCheck.check(contract);
      return contract;
    }
  }
}
