package dev.plumbline.cosim;

/**
 * What the valid column of a run with a handshake may say of a row beside the offer itself, bit 0;
 * entry.cpp has the same bits.
 */
public final class OfferBits {
  /** The clock of the cases does not rise in this row: nothing is taken. */
  public static final long OTHER_CLOCK = 2;

  /** The ready port is 0 where the DUT can take a case, as one that says busy. */
  public static final long INVERTED = 4;

  /**
   * Valid is high for one cycle, which takes the case, in one after the ready port said that the
   * DUT is free.
   */
  public static final long ONCE = 8;

  /** Reset is asserted, or no row came before: whether the DUT was seen free is forgotten. */
  public static final long FORGET = 16;

  /** Beside {@link #FORGET}: the DUT is free then. */
  public static final long FREE_AT_FIRST = 32;

  /** The valid port is 0 where a case is on offer. */
  public static final long LOW = 64;

  private OfferBits() {}
}
