package dev.plumbline.run;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.ContractException;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.text.Names;
import java.math.BigInteger;
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
  /** Cases that a delay is looked for in. */
  private static final int MOST_CASES = 256;

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

  /** The station of each step, in place of those that were found. */
  static void replace(
      List<GivenStage> given,
      StepSample cases,
      SignalSample sample,
      List<List<Station>> stations,
      int mostDelay) {
    for (GivenStage stage : given) {
      int g = sample.find(stage.signal());
      if (g < 0 && sample.rows() > 0) {
        String first = sample.signals().get(0).path();
        g = sample.find(first.substring(0, first.indexOf('.') + 1) + stage.signal());
      }
      for (int step = 0; g >= 0 && step < cases.steps().size(); step++) {
        if (cases.steps().get(step).name().equals(stage.step())) {
          stations.set(step, List.of(stage.station(step, g, cases, sample, mostDelay)));
        }
      }
    }
  }

  private Station station(int step, int g, StepSample cases, SignalSample sample, int mostDelay) {
    Station best = null;
    int from = delay.orElse(0);
    for (int cycles = from; cycles <= delay.orElse(mostDelay); cycles++) {
      Station one = at(step, g, cycles, cases, sample);
      best = best == null || one.matches() > best.matches() ? one : best;
    }
    return best;
  }

  private static Station at(int step, int g, int cycles, StepSample cases, SignalSample sample) {
    int matches = 0;
    int seen = 0;
    BigInteger span = BigInteger.ONE.shiftLeft(sample.signals().get(g).width());
    for (int n = 0; n < cases.count() && seen < MOST_CASES; n++) {
      BigInteger value = sample.value(g, cases.row(n) + cycles);
      if (value != null) {
        seen++;
        matches += cases.code(step, n).subtract(value).mod(span).signum() == 0 ? 1 : 0;
      }
    }
    return new Station(g, cycles, matches, Math.max(1, seen), true);
  }
}
