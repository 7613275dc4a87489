package dev.plumbline.contract;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import java.util.List;
import java.util.Optional;

/**
 * {@link Reference#explainedBy}: all that a verdict rests on is the other reference's.
 *
 * @param held what a DUT is held to
 * @param datapath what it is thought to do
 */
record ExplainedReference(Reference held, Datapath datapath) implements Reference {
  ExplainedReference {
    requireAlike("inputs", held, held.inputs(), datapath, datapath.inputs());
    requireAlike("outputs", held, held.outputs(), datapath, datapath.outputs());
  }

  private static void requireAlike(
      String which,
      Reference held,
      List<Operand> wanted,
      Datapath datapath,
      List<Operand> described) {
    if (!wanted.equals(described)) {
      throw new ContractException(
          "Reference \""
              + held.name()
              + "\" cannot be explained by datapath \""
              + datapath.name()
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
  public Optional<Datapath> steps() {
    return datapath.hasState() ? Optional.empty() : Optional.of(datapath);
  }

  @Override
  public Optional<Datapath> exactSteps() {
    return Optional.of(datapath);
  }

  @Override
  public List<Suspect> suspects() {
    return held.suspects();
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
