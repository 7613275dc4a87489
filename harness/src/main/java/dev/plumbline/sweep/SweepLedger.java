package dev.plumbline.sweep;

import dev.plumbline.evidence.CsvTable;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.BitSet;

/**
 * Which ranges of a sweep are finished: a small file that is there whole or not at all, so that a
 * sweep that was killed goes on where it was. Ranges finished under another key count for nothing.
 */
class SweepLedger {
  private final Path file;
  private final String key;
  private final BitSet finished = new BitSet();

  /** Reads what is there; the key names all that a result depends on. */
  SweepLedger(Path file, String key) {
    this.file = file;
    this.key = key;
    if (Files.exists(file)) {
      for (var row : CsvTable.read(file)) {
        if (key.equals(row.get("key"))) {
          finished.set(
              Integer.parseInt(row.get("first_range")),
              Integer.parseInt(row.get("last_range")) + 1);
        }
      }
    }
  }

  boolean isFinished(int range) {
    return finished.get(range);
  }

  int count() {
    return finished.cardinality();
  }

  /** Notes a range that holds; once this returns, no kill can lose it. */
  void finish(int range) {
    finished.set(range);
    CsvTable table = new CsvTable("key", "first_range", "last_range");
    for (int first = finished.nextSetBit(0); first >= 0; ) {
      int end = finished.nextClearBit(first);
      table.add(key, first, end - 1);
      first = finished.nextSetBit(end);
    }
    table.writeTo(file);
  }
}
