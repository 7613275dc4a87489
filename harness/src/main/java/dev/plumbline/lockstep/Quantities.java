package dev.plumbline.lockstep;

import dev.plumbline.lockstep.Quantity.Delays;
import dev.plumbline.lockstep.Quantity.Flow;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** All quantities of an executor over a window of rows, in the order in which they were named. */
final class Quantities {
  /** Registers, and those that look a little ahead. */
  static final Delays NEAR = new Delays(-1, 3);

  private final Map<String, Quantity> all = new LinkedHashMap<>();
  private final long first; // row of the segment

  Quantities(long first) {
    this.first = first;
  }

  /** A quantity of one name; how wide it is, and so on, is said when it is first asked for. */
  Quantity of(Flow flow, String name, int bits, Delays delays) {
    return all.computeIfAbsent(name, key -> new Quantity(flow, key, bits, delays, "", 0));
  }

  Quantity of(Flow flow, String name, int bits) {
    return of(flow, name, bits, NEAR);
  }

  Quantity bit(Flow flow, String name) {
    return of(flow, name, 1, NEAR);
  }

  /** One that a port shows, an element of it where it has several. */
  Quantity atPort(Flow flow, String role, int bits, int element) {
    int place = Math.max(0, element);
    return all.computeIfAbsent(
        key(role, role, place), key -> new Quantity(flow, role, bits, NEAR, role, place));
  }

  /** The quantity of the same name, of another model. */
  Optional<Quantity> find(Quantity other) {
    return Optional.ofNullable(all.get(key(other.name, other.role, other.element)));
  }

  private static String key(String name, String role, int element) {
    return role.isEmpty() ? name : role + " " + element;
  }

  /** A row of the window by its number in the segment; below 0 before it. */
  long at(long row) {
    return row - first;
  }

  long first() {
    return first;
  }

  List<Quantity> all() {
    return new ArrayList<>(all.values());
  }

  /** Bits that a number up to a greatest one needs. */
  static int bitsOf(long most) {
    return Math.max(1, Long.SIZE - Long.numberOfLeadingZeros(most));
  }
}
