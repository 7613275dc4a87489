package dev.plumbline.rtl;

/**
 * A place in RTL source.
 *
 * @param file the file as it was given or found
 * @param line the line, counted from 1; 0 when unknown
 * @param column the column, counted from 1; 0 when unknown
 */
public record SourceLocation(String file, int line, int column) {
  /**
   * A line.
   *
   * @param file the file as it was given or found
   * @param line the line, counted from 1; 0 when unknown
   */
  public SourceLocation(String file, int line) {
    this(file, line, 0);
  }

  @Override
  public String toString() {
    String place = line > 0 ? file + ":" + line : file;
    return line > 0 && column > 0 ? place + ":" + column : place;
  }
}
