package dev.plumbline.bus;

import java.util.List;

/**
 * A register.
 *
 * @param name its name
 * @param address where it is
 * @param aliases where it is as well
 * @param fields its fields
 */
public record Register(String name, long address, List<Long> aliases, List<Field> fields) {
  /** Copies the lists. */
  public Register {
    aliases = List.copyOf(aliases);
    fields = List.copyOf(fields);
  }

  /** What the bus may do with a field; names as in IEEE 1685. */
  public enum Access {
    /** Reads give what was written last. */
    READ_WRITE("read-write"),
    /** Writes change nothing. */
    READ_ONLY("read-only"),
    /** Reads say nothing. */
    WRITE_ONLY("write-only"),
    /** Each 1 that is written clears a bit. */
    ONE_TO_CLEAR("one-to-clear");

    private final String word;

    Access(String word) {
      this.word = word;
    }

    @Override
    public String toString() {
      return word;
    }
  }

  /**
   * A field of a register.
   *
   * @param name its name
   * @param high its highest bit, 0 to 63
   * @param low its lowest bit
   * @param access what the bus may do with it
   * @param reset its value after a reset, counted from its lowest bit
   * @param isVolatile whether it may change by itself
   */
  public record Field(
      String name, int high, int low, Access access, long reset, boolean isVolatile) {
    long mask() {
      return (-1L >>> (63 - high + low)) << low;
    }
  }

  /** Bits that have an access and do not change by themselves. */
  long mask(Access access) {
    long mask = 0;
    for (Field field : fields) {
      mask |= field.access() == access && !field.isVolatile() ? field.mask() : 0;
    }
    return mask;
  }

  /** Bits of its fields. */
  long bits() {
    return fields.stream().mapToLong(Field::mask).reduce(0, (a, b) -> a | b);
  }

  /** Bits whose value is known when they are read. */
  long known() {
    return mask(Access.READ_WRITE) | mask(Access.READ_ONLY) | mask(Access.ONE_TO_CLEAR);
  }

  /** What the register holds after a reset. */
  long reset() {
    long value = 0;
    for (Field field : fields) {
      value |= field.reset() << field.low();
    }
    return value;
  }
}
