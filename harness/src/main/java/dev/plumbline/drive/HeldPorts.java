package dev.plumbline.drive;

import dev.plumbline.contract.ContractException;
import dev.plumbline.contract.Idle;
import dev.plumbline.rtl.Port;
import dev.plumbline.rtl.PortLayout;
import dev.plumbline.stimulus.RandomStream;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** Inputs that have one value throughout. */
public final class HeldPorts {
  private final Map<PortRef, BigInteger> codes = new LinkedHashMap<>();
  private final List<PortRef> byChance = new ArrayList<>();

  /** Codes by port or array element as it is written. */
  public HeldPorts(PortFinder finder, Map<String, BigInteger> held) {
    held.forEach((text, code) -> codes.put(checked(finder, text, code), code));
  }

  /** Holds what else the design has: at a code, or at one by chance in each segment. */
  void others(PortFinder finder, Set<String> driven, Idle idle) {
    Set<String> held =
        codes.keySet().stream().map(PortRef::column).collect(Collectors.toCollection(HashSet::new));
    for (Port port : finder.design().ports()) {
      boolean isClock =
          finder.design().clocks().stream().anyMatch(clock -> clock.port().equals(port.name()));
      if (port.direction() != Port.Direction.INPUT || isClock || driven.contains(port.name())) {
        continue;
      }
      for (String element : PortLayout.elements(port)) {
        PortRef found = finder.find(element);
        if (held.contains(found.column())) {
          continue;
        }
        if (idle.isRandom()) {
          byChance.add(found);
        } else {
          codes.put(found, BigInteger.valueOf(idle.code()));
        }
      }
    }
  }

  /** What those by chance have in a segment, by port. */
  Map<String, BigInteger> byChance(Segment segment) {
    Map<String, BigInteger> drawn = new LinkedHashMap<>();
    for (PortRef port : byChance) {
      drawn.put(port.text(), code(port, segment));
    }
    return drawn;
  }

  private static BigInteger code(PortRef port, Segment segment) {
    RandomStream stream =
        RandomStream.of(
            RandomStream.derive(segment.seedOf(Segment.Use.STATE), "held " + port.text()));
    BigInteger code = BigInteger.ZERO;
    for (int word = 0; word < port.port().words(); word++) {
      BigInteger bits = BigInteger.valueOf(stream.next() & Long.MAX_VALUE);
      code = code.or(bits.shiftLeft((Long.SIZE - 1) * word));
    }
    return code.mod(BigInteger.ONE.shiftLeft(port.width()));
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
    return Stream.concat(codes.keySet().stream(), byChance.stream());
  }

  /** Fills their columns, as they are in a segment. */
  void fill(Engine engine, Segment segment) {
    fill(engine);
    byChance.forEach(port -> fill(engine, port, code(port, segment)));
  }

  /** Fills the columns of those that have a code. */
  public void fill(Engine engine) {
    codes.forEach((port, code) -> fill(engine, port, code));
  }

  private static void fill(Engine engine, PortRef port, BigInteger code) {
    for (int word = 0; word < port.port().words(); word++) {
      long[] column = engine.column(port.column(), word);
      Arrays.fill(column, code.shiftRight(Long.SIZE * word).longValue());
    }
  }
}
