package dev.plumbline.contract;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.text.Names;
import dev.plumbline.verdict.Verdict;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.stream.Collectors;

/**
 * What a bench has to have reached before its pass counts: for each coverage point whether a case
 * reaches it, decided from its operands alone.
 *
 * <pre>{@code
 * Datapath.Builder b = Datapath.named("gear coverage points");
 * Value teeth = b.input("teeth", Format.unsigned(8, 0));
 * b.output("no_teeth", b.equal("none", teeth, b.constant("zero", Format.unsigned(8, 0), 0)));
 * bench.coverage(CoveragePoints.of(b.build()));
 * }</pre>
 *
 * <p>Coverage points are the outputs of a datapath evaluated in bits, one bit each, named as they
 * are with spaces for underscores; its inputs are operands of the bench's reference, by name and in
 * the same format. A case may reach several or none. Every case that is offered counts, once; of a
 * long run with cases by chance, in which each point was reached on purpose at first, those behind
 * the first 131,072 are counted by a sample: one block of about a thousand in sixteen, sixteenfold.
 * A run that never reaches one of them is no pass: its verdict is {@link
 * Verdict.Outcome#NOT_REACHED}.
 */
public final class CoveragePoints {
  private final Datapath datapath;
  private final Map<String, String> decisions; // output by point; of those not there every case

  private CoveragePoints(Datapath datapath, Map<String, String> decisions) {
    this.datapath = datapath;
    this.decisions = Map.copyOf(decisions);
  }

  /**
   * The coverage points that a datapath distinguishes.
   *
   * @param datapath its outputs are bits, named as the coverage points
   * @return the coverage points
   * @throws ContractException when an output is not a bit
   */
  public static CoveragePoints of(Datapath datapath) {
    for (Operand output : datapath.outputs()) {
      if (!output.format().equals(Format.bit())) {
        throw new ContractException(
            "Coverage point \""
                + output.name()
                + "\" of datapath "
                + datapath.name()
                + " is "
                + output.format()
                + "; a coverage point is reached or not, so a bit is needed. Compare the value with"
                + " what makes the coverage point.");
      }
    }
    return new CoveragePoints(datapath, Map.of());
  }

  /**
   * The same coverage points, for which only those cases count that leave an output one code: where
   * the bounds of a reference let a DUT do either, a case shows nothing.
   *
   * @param output the name of an output of the reference, of 64 bits at most
   * @return coverage points
   */
  public CoveragePoints whereDecided(String output) {
    Objects.requireNonNull(output, "output");
    Map<String, String> all = new HashMap<>();
    datapath.outputs().forEach(point -> all.put(point.name(), output));
    return new CoveragePoints(datapath, all);
  }

  /**
   * The same coverage points, for one of which only those cases count that leave an output one
   * code; the others are as they were.
   *
   * @param output the name of an output of the reference, of 64 bits at most
   * @param point the name of an output of the datapath
   * @return coverage points
   * @throws ContractException when there is no such point
   */
  public CoveragePoints whereDecided(String output, String point) {
    List<String> points = datapath.outputs().stream().map(Operand::name).toList();
    if (!points.contains(point)) {
      throw new ContractException(
          "Coverage points "
              + datapath.name()
              + " have no \""
              + point
              + "\" to be counted where \""
              + output
              + "\" is decided; "
              + Names.hint(point, points)
              + ".");
    }
    Map<String, String> more = new HashMap<>(decisions);
    more.put(point, Objects.requireNonNull(output, "output"));
    return new CoveragePoints(datapath, more);
  }

  /**
   * Which output of a reference a case has to decide, to count for each coverage point.
   *
   * @param reference the reference
   * @return by coverage point an index into its outputs, or -1 where every case counts
   * @throws ContractException when the reference has no such output
   */
  public int[] decisionsOf(Reference reference) {
    return datapath.outputs().stream()
        .mapToInt(point -> decisionOf(decisions.get(point.name()), reference))
        .toArray();
  }

  private int decisionOf(String decision, Reference reference) {
    if (decision == null) {
      return -1;
    }
    List<String> outputs = reference.outputs().stream().map(Operand::name).toList();
    if (!outputs.contains(decision)) {
      throw new ContractException(
          "Coverage points "
              + datapath.name()
              + " count where output \""
              + decision
              + "\" is decided, which reference "
              + reference.name()
              + " does not have; its outputs are "
              + String.join(", ", outputs)
              + ". Name one of these.");
    }
    if (!reference.givesOneForEach()) {
      throw new ContractException(
          "Coverage points "
              + datapath.name()
              + " count where output \""
              + decision
              + "\" is decided, and reference "
              + reference.name()
              + " may give none or several results for a case. Count operands alone.");
    }
    return outputs.indexOf(decision);
  }

  /**
   * The names of the coverage points.
   *
   * @return names in order
   */
  public List<String> names() {
    return datapath.outputs().stream().map(output -> output.name().replace('_', ' ')).toList();
  }

  /**
   * Whether there is a coverage point.
   *
   * @param point the name of an output of the datapath
   * @return true where it is one
   */
  public boolean has(String point) {
    return datapath.outputs().stream().anyMatch(output -> output.name().equals(point));
  }

  /**
   * What distinguishes the coverage points.
   *
   * @return a datapath with a bit for each
   */
  public Datapath datapath() {
    return datapath;
  }

  /**
   * For each input of the coverage points, which operand of the reference it is.
   *
   * @param reference the reference
   * @return indices into its inputs
   */
  public int[] operandsOf(Reference reference) {
    return datapath.inputs().stream().mapToInt(input -> indexOf(input, reference)).toArray();
  }

  private int indexOf(Operand input, Reference reference) {
    int index = reference.inputs().indexOf(input);
    if (index < 0) {
      throw new ContractException(
          "CoveragePoints "
              + datapath.name()
              + " look at "
              + input
              + ", which is no operand of reference "
              + reference.name()
              + "; its operands are "
              + reference.inputs().stream().map(Operand::toString).collect(Collectors.joining(", "))
              + ". Name and format have to be the same.");
    }
    return index;
  }
}
