package dev.plumbline.rtl;

/**
 * A register or a memory inside the design.
 *
 * @param path hierarchical name from the top module, joined by dots
 * @param kind register or memory
 * @param width bits of one word
 * @param depth words; 1 for a register
 * @param signed whether a word is a signed number
 * @param location where it is declared
 */
public record StateElement(
    String path, Kind kind, int width, long depth, boolean signed, SourceLocation location) {
  /** What sort of state it is. */
  public enum Kind {
    /** Written under a clock edge. */
    REGISTER,
    /** An unpacked array. */
    MEMORY
  }
}
