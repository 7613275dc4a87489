package dev.plumbline.check;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import java.util.List;
import java.util.stream.Collectors;

/**
 * What a bench has to have met before its pass counts: for each situation whether a case is one,
 * told from its operands alone.
 *
 * <pre>{@code
 * Datapath.Builder b = Datapath.named("gear situations");
 * Value teeth = b.input("teeth", Format.unsigned(8, 0));
 * b.output("no_teeth", b.equal("none", teeth, b.constant("zero", Format.unsigned(8, 0), 0)));
 * bench.situations(Situations.of(b.build()));
 * }</pre>
 *
 * <p>Situations are the outputs of a datapath evaluated in bits, one bit each, called as they are
 * with spaces for underscores; its inputs are operands of the bench's reference, by name and in the
 * same format. A case may be of several or of none. Every case that is offered counts, once. A run
 * that never met one of them is no pass: its verdict is {@link Verdict.Outcome#NEVER_MET}.
 */
public final class Situations {
  private final Datapath datapath;

  private Situations(Datapath datapath) {
    this.datapath = datapath;
  }

  /**
   * The situations that a datapath tells apart.
   *
   * @param datapath its outputs are bits, named as the situations
   * @return the situations
   * @throws ContractException when an output is not a bit
   */
  public static Situations of(Datapath datapath) {
    for (Operand output : datapath.outputs()) {
      if (!output.format().equals(Format.bit())) {
        throw new ContractException(
            "Situation \""
                + output.name()
                + "\" of datapath "
                + datapath.name()
                + " is "
                + output.format()
                + "; a situation is met or not, so a bit is needed. Compare the value with what"
                + " makes the situation.");
      }
    }
    return new Situations(datapath);
  }

  /**
   * The names of the situations.
   *
   * @return names in order
   */
  public List<String> names() {
    return datapath.outputs().stream().map(output -> output.name().replace('_', ' ')).toList();
  }

  Datapath datapath() {
    return datapath;
  }

  /** For each input of the situations, which operand of the reference it is. */
  int[] operandsOf(Reference reference) {
    return datapath.inputs().stream().mapToInt(input -> indexOf(input, reference)).toArray();
  }

  private int indexOf(Operand input, Reference reference) {
    int index = reference.inputs().indexOf(input);
    if (index < 0) {
      throw new ContractException(
          "Situations "
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
