package dev.plumbline.contract;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import java.util.List;
import java.util.Optional;

/**
 * {@link Reference#explainedBy} and {@link Reference#suspecting}: all that a verdict rests on is
 * the other reference's.
 *
 * @param held what a DUT is held to
 * @param steps what it is thought to do, where no cases depend on those before
 * @param exactSteps the same, be that so or not
 * @param suspects what it may do instead
 */
record ExplainedReference(
    Reference held, Optional<Datapath> steps, Optional<Datapath> exactSteps, List<Suspect> suspects)
    implements Reference {
  static Reference by(Reference held, Datapath datapath) {
    String what = "datapath \"" + datapath.name();
    requireAlike("inputs", held, held.inputs(), what, datapath.inputs());
    requireAlike("outputs", held, held.outputs(), what, datapath.outputs());
    Optional<Datapath> steps = datapath.hasState() ? Optional.empty() : Optional.of(datapath);
    return new ExplainedReference(held, steps, Optional.of(datapath), held.suspects());
  }

  static Reference suspecting(Reference held, List<Suspect> suspects) {
    for (Suspect suspect : suspects) {
      String what = "suspect \"" + suspect.words();
      requireAlike("inputs", held, held.inputs(), what, suspect.reference().inputs());
      requireAlike("outputs", held, held.outputs(), what, suspect.reference().outputs());
    }
    return new ExplainedReference(held, held.steps(), held.exactSteps(), List.copyOf(suspects));
  }

  private static void requireAlike(
      String which, Reference held, List<Operand> wanted, String what, List<Operand> described) {
    if (!wanted.equals(described)) {
      throw new ContractException(
          "Reference \""
              + held.name()
              + "\" cannot be explained by "
              + what
              + "\" with "
              + which
              + " "
              + described
              + "; "
              + wanted
              + " are allowed. Describe the same operands in the same order and formats.");
    }
  }

  @Override
  public String name() {
    return held.name();
  }

  @Override
  public List<Operand> inputs() {
    return held.inputs();
  }

  @Override
  public List<Operand> outputs() {
    return held.outputs();
  }

  @Override
  public boolean isExact() {
    return held.isExact();
  }

  @Override
  public boolean isStateful() {
    return held.isStateful();
  }

  @Override
  public boolean givesOneForEach() {
    return held.givesOneForEach();
  }

  @Override
  public String description() {
    return held.description();
  }

  @Override
  public Class<?> code() {
    return held.code();
  }

  @Override
  public Evaluation open(int capacity) {
    return held.open(capacity);
  }
}
