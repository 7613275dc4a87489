package dev.plumbline.bus;

import dev.plumbline.bus.Register.Access;
import dev.plumbline.stimulus.RandomStream;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/** One test of registers over a bus, against what each is then known to hold. */
final class RegisterRun {
  private final Bus bus;
  private final List<Register> registers;
  private final Map<Register, Long> held = new HashMap<>();
  private final List<Wrong> found = new ArrayList<>();

  RegisterRun(Bus bus, List<Register> registers) {
    this.bus = bus;
    this.registers = registers;
  }

  List<Wrong> run() {
    for (Register register : registers) {
      held.put(register, register.reset());
      look(register, register.address(), "after reset");
      for (long alias : register.aliases()) {
        look(register, alias, "after reset, by its alias");
      }
    }
    for (Register register : registers) {
      if (found.isEmpty() || !isKnownWrong(register)) {
        walk(register);
      }
    }
    distinct();
    return found;
  }

  private boolean isKnownWrong(Register register) {
    return found.stream().anyMatch(wrong -> wrong.what().equals(register.name()));
  }

  /** Each bit alone, then all, then none, over every bit that a bus may write or must not. */
  private void walk(Register register) {
    long bits = 0;
    for (Register.Field field : register.fields()) {
      bits |= field.isVolatile() && field.access() == Access.READ_ONLY ? 0 : field.mask();
    }
    List<Long> values = new ArrayList<>(List.of(bits, 0L));
    for (long left = bits; left != 0; left &= left - 1) {
      values.add(Long.lowestOneBit(left));
      values.add(bits & ~Long.lowestOneBit(left));
    }
    int before = found.size();
    for (long value : values) {
      write(register, register.address(), value);
      look(register, register.address(), written(value));
      if (found.size() > before) {
        return; // one line a register says enough
      }
    }
  }

  /**
   * A value of its own in each register, then all are read: addresses that mean the same show. The
   * second time in the other order, since the later write of two hides what the earlier did.
   */
  private void distinct() {
    RandomStream chance = RandomStream.of(1);
    for (int turn = 0; turn < 2; turn++) {
      List<Register> inTurn = new ArrayList<>(registers);
      if (turn > 0) {
        Collections.reverse(inTurn);
      }
      for (Register register : inTurn) {
        long value = chance.next();
        int places = register.aliases().size() + 1;
        long at = turn == 0 ? register.address() : place(register, places - 1);
        if (!isKnownWrong(register)) {
          write(register, at, value & register.bits());
        }
      }
      for (Register register : registers) {
        for (int place = 0; place <= register.aliases().size(); place++) {
          if (!isKnownWrong(register)) {
            look(
                register,
                place(register, place),
                "after all registers were written" + (place == 0 ? "" : ", by its alias"));
          }
        }
      }
    }
  }

  private static long place(Register register, int number) {
    return number == 0 ? register.address() : register.aliases().get(number - 1);
  }

  private void write(Register register, long address, long value) {
    bus.write(address, value);
    long writable = register.mask(Access.READ_WRITE);
    long cleared = register.mask(Access.ONE_TO_CLEAR) & value;
    held.put(register, ((held.get(register) & ~writable) | (value & writable)) & ~cleared);
  }

  private static String written(long value) {
    return String.format(Locale.ROOT, "after 0x%x was written", value);
  }

  private void look(Register register, long address, String when) {
    if (register.known() == 0) {
      return;
    }
    long got = bus.read(address);
    long wanted = held.get(register);
    for (Register.Field field : register.fields()) {
      long mask = field.mask() & register.known();
      if (((got ^ wanted) & mask) != 0) {
        String told =
            String.format(
                Locale.ROOT,
                "%s at 0x%x, field %s (%s): 0x%x where 0x%x is due, %s, in cycle %d",
                register.name(),
                address,
                field.name(),
                field.access(),
                (got & mask) >>> field.low(),
                (wanted & mask) >>> field.low(),
                when,
                bus.latest().cycle());
        found.add(
            new Wrong(
                told,
                register.name(),
                bus.latest().cycle(),
                (got & mask) >>> field.low(),
                (wanted & mask) >>> field.low()));
      }
    }
  }
}
