package dev.plumbline.bus;

import dev.plumbline.bus.Register.Access;
import dev.plumbline.bus.Register.Field;
import dev.plumbline.bus.Surroundings.Port;
import dev.plumbline.bus.Surroundings.Role;
import dev.plumbline.cosim.Dut;
import dev.plumbline.stimulus.RandomStream;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Stream;

/** Accesses by chance over a bus, against what each register is then known to hold. */
final class RandomAccesses implements Bus.Onlooker {
  private static final int SHOWN = 8; // accesses that a failure tells of
  private static final int SETTLED = 4; // idle cycles after which no pulse is under way
  private static final double EVENTS = 0.1;

  private final Bus bus;
  private final Dut dut;
  private final List<Register> registers;
  private final Surroundings around;
  private final long seed;
  private final RandomStream chance;
  private final Map<Long, Register> places = new TreeMap<>(Long::compareUnsigned);
  private final Map<Register, Long> held = new HashMap<>();
  private final Map<Register, Long> unsure = new HashMap<>(); // bits that may be either
  private final Map<String, Long> inputs = new LinkedHashMap<>();
  private final Map<String, Long> driven = new LinkedHashMap<>(); // bits of inputs that may be 1
  private final Map<String, long[]> pulses = new LinkedHashMap<>(); // due and seen
  private final List<Port> events;
  private final Map<Register, Long> early = new HashMap<>(); // events of a transfer, but its last
  private final Map<Register, Long> latest = new HashMap<>(); // those of its latest cycle
  private boolean quiet; // no events

  RandomAccesses(Bus bus, List<Register> registers, Surroundings around, long seed) {
    this.bus = bus.watchedBy(this);
    this.dut = bus.dut();
    this.registers = registers;
    this.around = around;
    this.seed = seed;
    this.chance = RandomStream.of(seed);
    this.events = around.ports().stream().filter(port -> port.role() == Role.SET_BY).toList();
    for (Register register : registers) {
      places.put(register.address(), register);
      register.aliases().forEach(alias -> places.put(alias, register));
      held.put(register, register.reset());
    }
    for (Port port : around.ports()) {
      switch (port.role()) {
        case PULSES -> pulses.put(port.name(), new long[2]);
        case SHOWS ->
            driven.merge(
                port.name(),
                (port.field().mask() >>> port.field().low()) << port.low(),
                (a, b) -> a | b);
        case SET_BY -> dut.set(port.name(), 0);
      }
    }
    around
        .refusing()
        .values()
        .forEach(names -> names.forEach(name -> driven.putIfAbsent(name, 1L)));
    driven.keySet().forEach(this::change);
  }

  List<Wrong> run(long accesses) {
    for (long i = 0; i < accesses; i++) {
      Optional<Wrong> wrong = access(i);
      if (wrong.isPresent()) {
        return List.of(told(wrong.orElseThrow(), i));
      }
    }
    quiet = true;
    events.forEach(port -> dut.set(port.name(), 0));
    bus.idle(SETTLED);
    settle();
    Optional<Wrong> wrong = pulsed();
    for (long place : places.keySet()) {
      wrong = wrong.or(() -> read(place));
    }
    return wrong.map(one -> List.of(told(one, accesses))).orElse(List.of());
  }

  private Wrong told(Wrong wrong, long access) {
    List<Transfer> log = bus.log();
    StringBuilder text = new StringBuilder();
    text.append(
        String.format(Locale.ROOT, "; access %d of seed %d, the last of these:", access, seed));
    log.subList(Math.max(0, log.size() - SHOWN), log.size())
        .forEach(transfer -> text.append(System.lineSeparator()).append("    ").append(transfer));
    return wrong.withMore(text.toString());
  }

  private Optional<Wrong> access(long number) {
    for (String input : driven.keySet()) {
      if (chance.chance(0.1)) {
        change(input);
      }
    }
    if (chance.chance(0.3)) {
      bus.idle(1L + chance.below(3));
      settle();
    }
    if (number % 64 == 63) {
      bus.idle(SETTLED);
      settle();
      Optional<Wrong> wrong = pulsed();
      if (wrong.isPresent()) {
        return wrong;
      }
    }
    long place = place();
    return chance.chance(0.5) ? read(place) : write(place);
  }

  private void change(String input) {
    long value = chance.next() & driven.get(input);
    inputs.put(input, value);
    dut.set(input, value);
  }

  /** An address: of a register, or of none where it is known what that means. */
  private long place() {
    List<Long> known = List.copyOf(places.keySet());
    long one = known.get(chance.below(known.size()));
    if (around.elsewhere().isEmpty() || chance.chance(0.8)) {
      return one;
    }
    Surroundings.Elsewhere range = around.elsewhere().get(chance.below(around.elsewhere().size()));
    long span = range.last() - range.first() + 1; // 0 for all of 64 bits
    long any =
        range.first() + (span == 0 ? chance.next() : Long.remainderUnsigned(chance.next(), span));
    long near = one ^ 1L << chance.below(Math.max(1, 64 - Long.numberOfLeadingZeros(range.last())));
    long place = chance.chance(0.5) ? any : near;
    boolean isThere =
        Long.compareUnsigned(place, range.first()) >= 0
            && Long.compareUnsigned(place, range.last()) <= 0
            && around.isFree(place);
    return isThere ? place : one;
  }

  private Optional<Wrong> read(long place) {
    Register register = places.get(place);
    long got = bus.read(place);
    if (register == null) {
      Optional<Wrong> wrong = refusal(place, elsewhere(place));
      settle();
      return wrong;
    }
    boolean nothing =
        register.fields().stream().allMatch(field -> field.access() == Access.WRITE_ONLY);
    if (nothing) {
      settle();
      return refusal(place, around.refusesWriteOnly() ? Optional.of(true) : Optional.empty());
    }
    Optional<Wrong> wrong = refusal(place, Optional.of(false));
    long events = early.getOrDefault(register, 0L) | latest.getOrDefault(register, 0L);
    long open = unsure.getOrDefault(register, 0L) | (events & ~held.get(register));
    for (Field field : register.fields()) {
      Optional<Long> wanted = wanted(register, field);
      long mask = field.mask() & ~open;
      if (wanted.isPresent() && ((got ^ wanted.orElseThrow()) & mask) != 0) {
        wrong =
            wrong.or(() -> Optional.of(differs(register, place, field, got, wanted.orElseThrow())));
      }
    }
    long seen = unsure.getOrDefault(register, 0L) & ~events;
    held.put(register, (held.get(register) & ~seen) | (got & seen));
    unsure.remove(register);
    settle();
    return wrong;
  }

  private Wrong differs(Register register, long place, Field field, long got, long wanted) {
    String told =
        String.format(
            Locale.ROOT,
            "%s at 0x%x, field %s (%s): 0x%x where 0x%x is due",
            register.name(),
            place,
            field.name(),
            field.access(),
            (got & field.mask()) >>> field.low(),
            (wanted & field.mask()) >>> field.low());
    return new Wrong(
        told,
        register.name(),
        bus.latest().cycle(),
        (got & field.mask()) >>> field.low(),
        (wanted & field.mask()) >>> field.low());
  }

  /** What a field shows, where that is known. */
  private Optional<Long> wanted(Register register, Field field) {
    for (Port port : around.ports()) {
      if (port.role() == Role.SHOWS
          && port.address() == register.address()
          && port.field().equals(field)) {
        long value = inputs.get(port.name()) >>> port.low();
        return Optional.of(((port.isInverted() ? ~value : value) << field.low()) & field.mask());
      }
    }
    boolean isKnown = !field.isVolatile() && field.access() != Access.WRITE_ONLY;
    return isKnown ? Optional.of(held.get(register) & field.mask()) : Optional.empty();
  }

  private Optional<Wrong> write(long place) {
    Register register = places.get(place);
    long bits =
        (register == null ? registers.stream() : Stream.of(register))
            .mapToLong(Register::bits)
            .reduce(0, (a, b) -> a | b);
    long data = data() & bits;
    bus.write(place, data);
    if (register == null) {
      Optional<Wrong> wrong = refusal(place, elsewhere(place));
      settle();
      return wrong;
    }
    boolean nothing =
        register.fields().stream().allMatch(field -> field.access() == Access.READ_ONLY);
    boolean refused =
        around.refusing().getOrDefault(register.address(), List.of()).stream()
            .anyMatch(name -> (inputs.get(name) & 1) == 1);
    Optional<Boolean> due =
        nothing && !refused
            ? around.refusesReadOnly() ? Optional.of(true) : Optional.empty()
            : Optional.of(refused);
    if (!refused) {
      take(register, data);
    }
    settle();
    return refusal(place, due);
  }

  /** A write takes effect: in the last cycle of its transfer, or maybe in an earlier one. */
  private void take(Register register, long data) {
    long writable = register.mask(Access.READ_WRITE);
    long cleared = register.mask(Access.ONE_TO_CLEAR) & data;
    long before = early.getOrDefault(register, 0L);
    long last = latest.getOrDefault(register, 0L);
    held.put(register, ((held.get(register) & ~writable) | (data & writable)) & ~cleared);
    long open = unsure.getOrDefault(register, 0L) & ~cleared;
    unsure.put(register, (open | (cleared & before)) & ~last);
    early.put(register, before & ~cleared);
    for (Port port : around.ports()) {
      if (port.role() == Role.PULSES
          && port.address() == register.address()
          && (data & port.field().mask()) != 0) {
        pulses.get(port.name())[0]++;
      }
    }
  }

  private long data() {
    return switch (chance.below(6)) {
      case 0 -> 0;
      case 1 -> -1;
      case 2 -> 1L << chance.below(64);
      case 3 -> ~(1L << chance.below(64));
      default -> chance.next();
    };
  }

  private Optional<Boolean> elsewhere(long place) {
    return around.elsewhere().stream()
        .filter(range -> Long.compareUnsigned(place, range.first()) >= 0)
        .filter(range -> Long.compareUnsigned(place, range.last()) <= 0)
        .map(Surroundings.Elsewhere::refused)
        .findFirst();
  }

  private Optional<Wrong> refusal(long place, Optional<Boolean> due) {
    boolean refused = bus.latest().isRefused();
    if (!bus.tellsErrors() || due.isEmpty() || due.orElseThrow() == refused) {
      return Optional.empty();
    }
    String told =
        String.format(
            Locale.ROOT,
            "the access at 0x%x was %srefused, which it should %sbe",
            place,
            refused ? "" : "not ",
            refused ? "not " : "");
    return Optional.of(
        new Wrong(told, "refusal", bus.latest().cycle(), refused ? 1 : 0, refused ? 0 : 1));
  }

  /** Whether as many pulses came as were asked for. */
  private Optional<Wrong> pulsed() {
    for (var pulse : pulses.entrySet()) {
      long due = pulse.getValue()[0];
      long seen = pulse.getValue()[1];
      if (due != seen) {
        String told =
            String.format(
                Locale.ROOT,
                "%s was 1 in %d cycles, where %d writes asked for one each",
                pulse.getKey(),
                seen,
                due);
        return Optional.of(new Wrong(told, pulse.getKey(), dut.cyclesRun(), seen, due));
      }
    }
    return Optional.empty();
  }

  /** What events have set stays set; the transfer is over. */
  private void settle() {
    for (Map<Register, Long> some : List.of(early, latest)) {
      some.forEach(
          (register, bits) -> {
            held.merge(register, bits, (a, b) -> a | b);
            unsure.computeIfPresent(register, (key, open) -> open & ~bits);
          });
      some.clear();
    }
  }

  @Override
  public void before() {
    latest.forEach((register, bits) -> early.merge(register, bits, (a, b) -> a | b));
    latest.clear();
    for (Port event : events) {
      boolean now = !quiet && chance.chance(EVENTS);
      dut.set(event.name(), now ? 1 : 0);
      if (now) {
        latest.merge(places.get(event.address()), event.field().mask(), (a, b) -> a | b);
      }
    }
  }

  @Override
  public void after() {
    pulses.forEach((port, counts) -> counts[1] += dut.get(port) & 1);
  }
}
