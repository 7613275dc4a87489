package dev.plumbline.cosim;

import dev.plumbline.PlumblineException;
import dev.plumbline.rtl.PortLayout;
import dev.plumbline.rtl.Signal;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.BiConsumer;
import java.util.function.Consumer;
import java.util.function.Supplier;

/**
 * Which signals change for ever where the logic of a design does not settle: those that differ
 * after one evaluation more. It is driven into that twice, in probe builds that give up after so
 * many evaluations, and after one more.
 */
public final class Oscillation {
  private static final int EVALUATIONS = 100;

  /** Elements of an array that are looked at; larger ones are memories. */
  private static final int MOST_ELEMENTS = 64;

  private static final int MOST_NAMES = 12;

  private Oscillation() {}

  /**
   * Looks for them.
   *
   * @param model the design that does not settle
   * @param drive drives a DUT of a probe build into that, and hands it over before it is closed; an
   *     exception of the DUT ends that
   * @return hierarchical names, parents before children; none where it settles after all
   */
  public static List<String> of(
      CompiledDesign model, BiConsumer<CompiledDesign, Consumer<Dut>> drive) {
    Map<String, long[]> one = values(model, EVALUATIONS, drive);
    Map<String, long[]> more = values(model, EVALUATIONS + 1, drive);
    List<String> found = new ArrayList<>();
    one.forEach(
        (name, value) -> {
          if (more.containsKey(name) && !Arrays.equals(value, more.get(name))) {
            found.add(name);
          }
        });
    return found;
  }

  /**
   * Looks for them by running again what a DUT was driven through by hand.
   *
   * @param dut that ended since its logic did not settle
   * @return hierarchical names, parents before children; none where it settles after all
   * @throws PortException when it cannot be run again, as {@link Dut#lookBack} says
   */
  public static List<String> of(Dut dut) {
    return dut.inside().oscillating();
  }

  /**
   * What changes for ever, in words, where it is that which ended a DUT.
   *
   * @param end what ended it
   * @param signals finds them
   * @return the first names, and how many more there are; empty where something else ended it, or
   *     where it settles after all
   */
  public static Optional<String> words(DutException end, Supplier<List<String>> signals) {
    if (!(end instanceof DutEndedException ended)
        || ended.kind() != DutEndedException.Kind.NOT_SETTLED) {
      return Optional.empty();
    }
    try {
      List<String> names = signals.get();
      String first = String.join(", ", names.subList(0, Math.min(MOST_NAMES, names.size())));
      int more = names.size() - MOST_NAMES;
      return names.isEmpty()
          ? Optional.empty()
          : Optional.of(more > 0 ? first + " and " + more + " more" : first);
    } catch (PlumblineException e) {
      return Optional.of("could not be looked at: " + e.getMessage());
    }
  }

  private static Map<String, long[]> values(
      CompiledDesign model, int evaluations, BiConsumer<CompiledDesign, Consumer<Dut>> drive) {
    Map<String, long[]> values = new LinkedHashMap<>();
    CompiledDesign probe = model.givingUpAfter(evaluations);
    try {
      drive.accept(probe, dut -> values.putAll(now(dut)));
    } catch (PlumblineException e) {
      // that is what it was driven into
    }
    return values;
  }

  /** What is inside, in the midst of an evaluation. */
  private static Map<String, long[]> now(Dut dut) {
    Map<String, long[]> values = new LinkedHashMap<>();
    Internals internals = dut.inside().own();
    internals.keepAgain();
    for (Signal signal : internals.signals()) {
      if (signal.elements() <= MOST_ELEMENTS) {
        for (String name : PortLayout.elements(signal.path(), signal.unpacked())) {
          values.put(name, internals.words(internals.find(name)));
        }
      }
    }
    return values;
  }
}
