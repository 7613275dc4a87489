package dev.plumbline.drive;

import dev.plumbline.contract.ContractException;
import dev.plumbline.rtl.Clock;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import dev.plumbline.text.Names;
import java.util.List;
import java.util.Locale;
import java.util.Set;

/**
 * Finds the ports of a design and holds them to what they are for.
 *
 * @param design whose ports
 * @param place where ports are named, for messages: such as "in the contract"
 */
public record PortFinder(Design design, String place) {
  /** Finds what a contract names. */
  public static PortFinder of(Design design) {
    return new PortFinder(design, "in the contract");
  }

  /** Finds what a text means. */
  public PortRef find(String text) {
    return find(text, "");
  }

  /** Finds what a text means; what it is for is named where there is no such port. */
  public PortRef find(String text, String purpose) {
    Port port =
        design
            .findPort(PortRef.portName(text))
            .orElseThrow(
                () ->
                    new ContractException(
                        "Module "
                            + design.top()
                            + " has no port \""
                            + text
                            + "\""
                            + purpose
                            + "; "
                            + Names.hint(text, design.ports().stream().map(Port::name).toList())
                            + ". Name the port "
                            + place
                            + "."));
    return PortRef.of(port, text);
  }

  public void requireDirection(PortRef port, Port.Direction wanted, String what) {
    if (port.port().direction() != wanted
        && !(wanted == Port.Direction.OUTPUT && port.port().direction() == Port.Direction.INOUT)) {
      throw new ContractException(
          port.port().location(),
          "Port "
              + port.text()
              + " is an "
              + name(port.port().direction())
              + " and cannot carry "
              + what
              + ", which needs an "
              + name(wanted)
              + ". Name another port "
              + place
              + ".");
    }
  }

  private static String name(Port.Direction direction) {
    return direction.name().toLowerCase(Locale.ROOT);
  }

  public void requireBit(PortRef port, String what) {
    if (port.port().width() != 1) {
      throw new ContractException(
          port.port().location(),
          "Port "
              + port.text()
              + " has "
              + port.port().width()
              + " bits and cannot carry "
              + what
              + "; a port of one bit is needed.");
    }
  }

  /**
   * An input that nobody drives would silently be 0.
   *
   * @param driven names of ports
   * @param advice what to do with one that is not
   */
  public void requireEveryInput(Set<String> driven, String advice) {
    List<String> left =
        design.ports().stream()
            .filter(port -> port.direction() == Port.Direction.INPUT)
            .map(Port::name)
            .filter(name -> !driven.contains(name))
            .filter(name -> design.clocks().stream().map(Clock::port).noneMatch(name::equals))
            .toList();
    if (!left.isEmpty()) {
      throw new ContractException(
          "Nothing drives "
              + String.join(", ", left)
              + " of module "
              + design.top()
              + "; "
              + advice);
    }
  }
}
