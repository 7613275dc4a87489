package dev.plumbline.bus;

import dev.plumbline.bus.Register.Field;
import java.util.Optional;

/**
 * Words behind a bus that keep what is written: at addresses of their own, or all at one address
 * while a register says which is meant.
 *
 * @param name of the memory
 * @param first the address of word 0
 * @param words how many, 1 or more
 * @param bits of a word, 1 to 64, the low ones
 * @param index the register and its field that choose a word; empty where each has an address
 */
record Memory(String name, long first, long words, int bits, Optional<Index> index) {
  /** Which register chooses a word, and by which field. */
  record Index(Register register, Field field) {}

  long address(long word) {
    return index.isPresent() ? first : first + word;
  }

  long last() {
    return index.isPresent() ? first : first + words - 1;
  }

  long mask() {
    return -1L >>> (64 - bits);
  }
}
