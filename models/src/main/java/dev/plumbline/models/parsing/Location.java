package dev.plumbline.models.parsing;

/** A place in a text, both counted from 1; 0, 0 where there is none. */
public record Location(int line, int column) {
  public static final Location NONE = new Location(0, 0);

  /** The part of a message between what failed and what was allowed. */
  @Override
  public String toString() {
    return line == 0 ? "" : " in line " + line + ", column " + column;
  }
}
