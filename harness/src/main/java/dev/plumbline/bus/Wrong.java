package dev.plumbline.bus;

/**
 * A promise of a register file that does not hold.
 *
 * @param told in words
 * @param what the register, the port or the kind of access
 * @param cycle in which the access began that showed it
 * @param got what was there
 * @param due what should have been
 */
record Wrong(String told, String what, long cycle, long got, long due) {
  Wrong withMore(String more) {
    return new Wrong(told + more, what, cycle, got, due);
  }
}
