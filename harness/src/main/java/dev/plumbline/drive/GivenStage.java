package dev.plumbline.drive;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.ContractException;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.text.Names;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * A step of the reference and the signal that is said to be it.
 *
 * @param step name of the step
 * @param signal hierarchical name, the top module's own first or left out
 * @param delay cycles from the one in which a case goes in to the one in which the signal has it;
 *     empty where it is the one that agrees most often
 */
public record GivenStage(String step, String signal, OptionalInt delay) {
  /**
   * Refuses what is not there.
   *
   * @param signals hierarchical names of all that are inside; empty where the DUT is no compiled
   *     design
   */
  public static void require(
      List<GivenStage> given, Contract contract, Optional<List<String>> signals, String top) {
    for (GivenStage stage : given) {
      List<String> steps =
          contract.reference().steps().map(Datapath::steps).orElse(List.of()).stream()
              .map(Operand::name)
              .toList();
      if (!steps.contains(stage.step())) {
        throw new ContractException(
            "Stage \""
                + stage.step()
                + "\": reference \""
                + contract.reference().name()
                + "\" has no such step; "
                + Names.hint(stage.step(), steps)
                + ". Name one of its steps.");
      }
      if (signals.isPresent()
          && !signals.get().contains(stage.signal())
          && !signals.get().contains(top + "." + stage.signal())) {
        throw new ContractException(
            "Stage \""
                + stage.step()
                + "\": module "
                + top
                + " has no signal \""
                + stage.signal()
                + "\" inside; "
                + Names.hint(stage.signal(), signals.get())
                + ". Name one of its signals.");
      }
    }
  }
}
