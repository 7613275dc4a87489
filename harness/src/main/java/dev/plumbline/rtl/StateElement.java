package dev.plumbline.rtl;

/**
 * A register or a memory inside the design.
 *
 * <p>A register is a variable assigned under a clock edge. A memory is an unpacked array that is,
 * or one that only an initial block fills. Latches and variables inside blocks, tasks and functions
 * are neither.
 *
 * @param path hierarchical name, the top module's own first, joined by dots; generate scopes and
 *     elements of arrays as Verilog names them
 * @param kind register or memory
 * @param width bits of one word
 * @param depth words, all unpacked dimensions together; 1 for a register
 * @param signed whether a word is a signed number
 * @param location where it is declared
 */
public record StateElement(
    String path, Kind kind, int width, long depth, boolean signed, SourceLocation location) {
  /** What sort of state it is. */
  public enum Kind {
    /** Written under a clock edge. */
    REGISTER,
    /** An unpacked array that keeps what it is given. */
    MEMORY
  }
}
