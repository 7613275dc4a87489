package dev.plumbline.models.fixed;

/** What happens to a value beyond the range of its format. */
public enum Overflow {
  /** The high bits are dropped (two's complement). */
  WRAP,
  /** The nearest end of the range is taken. */
  SATURATE
}
