package dev.plumbline.bus;

import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * March C- over a memory: write 0; up: read 0, write 1; up: read 1, write 0; down: read 0, write 1;
 * down: read 1, write 0; read 0 (A. van de Goor, Testing Semiconductor Memories, 1991). It sees any
 * bit that sticks or does not change, any two bits of different words that change each other, and
 * any fault of the address. So that bits of one word are told apart, it is done with 0 and 1 as all
 * zeros and all ones, then every other bit, every other two, and so on (backgrounds of words: as
 * there).
 */
final class MarchRun {
  /** One pass over all words: what is read first, what is written then; null where nothing is. */
  private record Pass(boolean up, Boolean reads, Boolean writes) {}

  private static final List<Pass> PASSES =
      List.of(
          new Pass(true, null, false),
          new Pass(true, false, true),
          new Pass(true, true, false),
          new Pass(false, false, true),
          new Pass(false, true, false),
          new Pass(false, false, null));

  private final Bus bus;
  private final Memory memory;

  MarchRun(Bus bus, Memory memory) {
    this.bus = bus;
    this.memory = memory;
  }

  /** What is wrong first. */
  Optional<Wrong> run() {
    for (int side = 64; side > 0; side /= 2) {
      if (side == 64 || side < memory.bits()) {
        Optional<Wrong> wrong = march(background(side));
        if (wrong.isPresent()) {
          return wrong;
        }
      }
    }
    return Optional.empty();
  }

  /** Zeros, or so many zeros, as many ones, and so on. */
  private static long background(int side) {
    long bits = 0;
    for (int bit = 0; bit < 64; bit++) {
      bits |= (long) (bit / side & 1) << bit;
    }
    return bits;
  }

  private Optional<Wrong> march(long background) {
    for (int number = 0; number < PASSES.size(); number++) {
      Pass pass = PASSES.get(number);
      for (long k = 0; k < memory.words(); k++) {
        long word = pass.up() ? k : memory.words() - 1 - k;
        choose(word);
        if (pass.reads() != null) {
          long due = value(background, pass.reads());
          long got = bus.read(memory.address(word)) & memory.mask();
          if (got != due) {
            return Optional.of(wrong(word, got, due, number));
          }
        }
        if (pass.writes() != null) {
          bus.write(memory.address(word), value(background, pass.writes()));
        }
      }
    }
    return Optional.empty();
  }

  private void choose(long word) {
    memory
        .index()
        .ifPresent(index -> bus.write(index.register().address(), word << index.field().low()));
  }

  private long value(long background, boolean isOne) {
    return (isOne ? ~background : background) & memory.mask();
  }

  private Wrong wrong(long word, long got, long due, int pass) {
    String told =
        String.format(
            Locale.ROOT,
            "%s, word %d at 0x%x: 0x%x where 0x%x is due, in pass %d of March C-, in cycle %d",
            memory.name(),
            word,
            memory.address(word),
            got,
            due,
            pass + 1,
            bus.latest().cycle());
    return new Wrong(told, memory.name(), bus.latest().cycle(), got, due);
  }
}
