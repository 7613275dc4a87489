package dev.plumbline.rtl;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;

/**
 * What an elaborated design says of itself.
 *
 * @param top the top module's name in the source
 * @param ports its ports in the order of the module's port list
 * @param parameters its parameters with elaborated values
 * @param clocks input ports that sensitivity lists use as clocks, in port order
 * @param asyncResets input ports that sensitivity lists use as resets, in port order
 * @param state registers and memories of the whole hierarchy, parents before children
 * @param instances the instance tree below the top, parents before children
 * @param files every source, include file and file list that was read, as Verilator names them:
 *     relative names are relative to where it ran
 */
public record Design(
    String top,
    List<Port> ports,
    List<Parameter> parameters,
    List<Clock> clocks,
    List<AsyncReset> asyncResets,
    List<StateElement> state,
    List<Instance> instances,
    List<Path> files) {

  public Design {
    ports = List.copyOf(ports);
    parameters = List.copyOf(parameters);
    clocks = List.copyOf(clocks);
    asyncResets = List.copyOf(asyncResets);
    state = List.copyOf(state);
    instances = List.copyOf(instances);
    files = List.copyOf(files);
  }

  /**
   * Looks a port up.
   *
   * @param name the port's name
   * @return the port, or empty when there is none of that name
   */
  public Optional<Port> findPort(String name) {
    return ports.stream().filter(port -> port.name().equals(name)).findFirst();
  }
}
