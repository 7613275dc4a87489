package dev.plumbline.evidence;

import java.io.IOException;
import java.util.List;
import java.util.Map;

/** Tables read from memory, for tests of other packages. */
public final class TableDoor {
  private TableDoor() {}

  /** Reads a table. */
  public static List<Map<String, String>> rows(String text) throws IOException {
    return CsvTable.rows(text);
  }
}
