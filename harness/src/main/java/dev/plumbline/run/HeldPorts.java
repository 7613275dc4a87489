package dev.plumbline.run;

import dev.plumbline.contract.ContractException;
import dev.plumbline.rtl.Port;
import java.math.BigInteger;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.stream.Stream;

/** Inputs that have one value throughout. */
public final class HeldPorts {
  private final Map<PortRef, BigInteger> codes = new LinkedHashMap<>();

  /** Codes by port or array element as it is written. */
  public HeldPorts(PortFinder finder, Map<String, BigInteger> held) {
    held.forEach((text, code) -> codes.put(checked(finder, text, code), code));
  }

  private static PortRef checked(PortFinder finder, String text, BigInteger code) {
    PortRef port = finder.find(text);
    finder.requireDirection(port, Port.Direction.INPUT, "a held value");
    int bits = code.signum() < 0 ? code.bitLength() + 1 : code.bitLength();
    if (!port.isWhole() || bits > port.width()) {
      throw new ContractException(
          port.port().location(),
          "Port "
              + port.text()
              + " cannot be held at "
              + code
              + "; a whole port or array element and a code of "
              + port.width()
              + " bits are allowed.");
    }
    return port;
  }

  public Stream<PortRef> ports() {
    return codes.keySet().stream();
  }

  /** Fills their columns. */
  public void fill(Engine engine, int rows) {
    codes.forEach(
        (port, code) -> {
          for (int word = 0; word < port.port().words(); word++) {
            long[] column = engine.column(port.column(), word);
            Arrays.fill(column, 0, rows, code.shiftRight(Long.SIZE * word).longValue());
          }
        });
  }
}
