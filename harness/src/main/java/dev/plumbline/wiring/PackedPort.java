package dev.plumbline.wiring;

import dev.plumbline.contract.ContractException;
import dev.plumbline.contract.Reference;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** Cuts a port that carries several operands side by side. */
public final class PackedPort {
  private PackedPort() {}

  /** The part of the port for each operand, the first in the lowest bits. */
  public static Map<String, String> cut(
      String bench, Design design, String name, String[] operands, Reference reference) {
    Port port =
        design
            .findPort(name)
            .orElseThrow(
                () ->
                    new ContractException(
                        bench
                            + ": module "
                            + design.top()
                            + " has no port \""
                            + name
                            + "\" to unpack; it has "
                            + String.join(", ", design.ports().stream().map(Port::name).toList())
                            + "."));
    List<Operand> all = new ArrayList<>(reference.inputs());
    all.addAll(reference.outputs());
    Map<String, String> parts = new LinkedHashMap<>();
    int low = 0;
    for (String wanted : operands) {
      Operand operand =
          all.stream()
              .filter(o -> o.name().equals(wanted))
              .findFirst()
              .orElseThrow(
                  () ->
                      new ContractException(
                          bench
                              + " has no operand \""
                              + wanted
                              + "\" to find in port "
                              + name
                              + "; it has "
                              + String.join(", ", all.stream().map(Operand::name).toList())
                              + "."));
      int high = low + operand.format().width() - 1;
      parts.put(wanted, bits(port, high, low));
      low = high + 1;
    }
    if (low != port.width()) {
      throw new ContractException(
          port.location(),
          bench
              + ": operands "
              + String.join(", ", operands)
              + " have "
              + low
              + " bits together, but port "
              + name
              + " has "
              + port.width()
              + ". Give the formats of the port, or map each operand with .port(\""
              + operands[0]
              + "\", \""
              + name
              + "[HIGH:LOW]\").");
    }
    return parts;
  }

  private static String bits(Port port, int high, int low) {
    if (port.packed().size() > 1) {
      Port.Range outer = port.packed().get(0);
      int width = port.width() / outer.size();
      boolean descending = outer.left() >= outer.right();
      if (high - low + 1 == width && low % width == 0) {
        int element = low / width;
        return port.name()
            + "["
            + (descending ? outer.right() + element : outer.right() - element)
            + "]";
      }
    }
    Port.Range range =
        port.packed().size() == 1 ? port.packed().get(0) : new Port.Range(port.width() - 1, 0);
    boolean descending = range.left() >= range.right();
    int from = descending ? range.right() + high : range.right() - high;
    int to = descending ? range.right() + low : range.right() - low;
    return port.name() + "[" + from + ":" + to + "]";
  }
}
