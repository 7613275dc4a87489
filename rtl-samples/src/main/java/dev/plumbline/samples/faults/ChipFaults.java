package dev.plumbline.samples.faults;

import dev.plumbline.faults.Fault;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Stream;

/**
 * Faults of the chip's blocks around the executor: what drives these by hand has to see each, and
 * their benches most.
 */
public final class ChipFaults {
  private ChipFaults() {}

  /**
   * Every fault, by block.
   *
   * @return the faults; the block is the first word of the bench's name
   */
  public static List<Fault> all() {
    return Stream.of(PictureFaults.all(), LightFaults.all()).flatMap(List::stream).toList();
  }

  /**
   * The block that a fault is planted in.
   *
   * @param fault of {@link #all()}
   * @return its top module
   */
  public static String block(Fault fault) {
    return Faults.unit(fault);
  }

  /**
   * All where {@code -Dplumbline.everyFault=true}, as every night; else one of each block and of
   * each kind.
   *
   * @return the faults to plant
   */
  public static List<Fault> chosen() {
    if (Boolean.getBoolean("plumbline.everyFault")) {
      return all();
    }
    Map<String, Fault> first = new LinkedHashMap<>();
    all().forEach(fault -> first.putIfAbsent(block(fault), fault));
    Set<Fault.Kind> kinds = EnumSet.noneOf(Fault.Kind.class);
    first.values().forEach(fault -> kinds.add(fault.kind()));
    List<Fault> chosen = new ArrayList<>(first.values());
    all().stream().filter(fault -> kinds.add(fault.kind())).forEach(chosen::add);
    return chosen;
  }
}
