package dev.plumbline.rtl;

import java.nio.file.Path;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
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
 * @param portClocks where there are several clocks, the one that a port follows: an input's that of
 *     the registers made from it, an output's that of those it is made from; ports that follow none
 *     or several are not there
 */
public record Design(
    String top,
    List<Port> ports,
    List<Parameter> parameters,
    List<Clock> clocks,
    List<AsyncReset> asyncResets,
    List<StateElement> state,
    List<Instance> instances,
    List<Path> files,
    Map<String, String> portClocks) {

  public Design {
    ports = List.copyOf(ports);
    parameters = List.copyOf(parameters);
    clocks = List.copyOf(clocks);
    asyncResets = List.copyOf(asyncResets);
    state = List.copyOf(state);
    instances = List.copyOf(instances);
    files = List.copyOf(files);
    portClocks = Collections.unmodifiableMap(new LinkedHashMap<>(portClocks));
  }

  /**
   * A design whose ports are not said to follow any clock.
   *
   * @param top as of the record
   * @param ports as of the record
   * @param parameters as of the record
   * @param clocks as of the record
   * @param asyncResets as of the record
   * @param state as of the record
   * @param instances as of the record
   * @param files as of the record
   */
  public Design(
      String top,
      List<Port> ports,
      List<Parameter> parameters,
      List<Clock> clocks,
      List<AsyncReset> asyncResets,
      List<StateElement> state,
      List<Instance> instances,
      List<Path> files) {
    this(top, ports, parameters, clocks, asyncResets, state, instances, files, Map.of());
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
