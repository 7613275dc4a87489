package dev.plumbline.bus;

import dev.plumbline.bus.Register.Field;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * What a register file in text says beyond its registers: ports that fields belong to, and what
 * becomes of accesses that mean nothing.
 *
 * @param ports of fields
 * @param refusing by the address of a register, inputs of one bit; while one is 1, a write of it is
 *     refused
 * @param elsewhere where addresses without a register mean something known
 * @param left addresses that are left alone
 * @param memories words that keep what is written
 * @param refusesReadOnly whether a write of a register with nothing to write is refused
 * @param refusesWriteOnly whether a read of a register with nothing to read is refused
 */
record Surroundings(
    List<Port> ports,
    Map<Long, List<String>> refusing,
    List<Elsewhere> elsewhere,
    Set<Long> left,
    List<Memory> memories,
    boolean refusesReadOnly,
    boolean refusesWriteOnly) {

  /** Whether an address has no register and may be tried by chance. */
  boolean isFree(long address) {
    return !left.contains(address)
        && memories.stream()
            .noneMatch(
                memory ->
                    Long.compareUnsigned(address, memory.first()) >= 0
                        && Long.compareUnsigned(address, memory.last()) <= 0);
  }

  /** How a port belongs to a field. */
  enum Role {
    /** An input of one bit; while it is 1, the field is set, even as it is cleared. */
    SET_BY("set-by"),
    /** An input that the field shows. */
    SHOWS("shows"),
    /** An output of one bit, 1 for one cycle for each write of a 1. */
    PULSES("pulses");

    private final String word;

    Role(String word) {
      this.word = word;
    }

    @Override
    public String toString() {
      return word;
    }
  }

  /**
   * A port of a field.
   *
   * @param address of the register
   * @param field the field
   * @param role how it belongs to it
   * @param name the port
   * @param low the lowest of its bits that are meant
   * @param isInverted whether the field shows its bits inverted
   */
  record Port(long address, Field field, Role role, String name, int low, boolean isInverted) {}

  /**
   * A range of addresses.
   *
   * @param first its first
   * @param last its last
   * @param refused whether an access is refused; else it has no effect, and no more is known
   */
  record Elsewhere(long first, long last, boolean refused) {}
}
