package dev.plumbline.rtl;

/**
 * A place in RTL source.
 *
 * @param file the file as it was given or found
 * @param line the line, counted from 1; 0 when unknown
 */
public record SourceLocation(String file, int line) {
  @Override
  public String toString() {
    return line > 0 ? file + ":" + line : file;
  }
}
