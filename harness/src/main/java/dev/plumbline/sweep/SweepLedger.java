package dev.plumbline.sweep;

import dev.plumbline.evidence.CsvTable;
import dev.plumbline.evidence.ReportException;
import dev.plumbline.text.PlainText;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.BitSet;
import java.util.List;
import java.util.Map;

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
      note(CsvTable.read(file));
    }
  }

  /** Takes over the ranges of a table. */
  final void note(List<Map<String, String>> rows) {
    for (var row : rows) {
      if (key.equals(row.get("key"))) {
        int first = range(row.get("first_range"));
        int last = range(row.get("last_range"));
        if (first < 0 || last < first) {
          throw new ReportException(
              file
                  + ": The ranges from \""
                  + PlainText.quoted(String.valueOf(row.get("first_range")))
                  + "\" to \""
                  + PlainText.quoted(String.valueOf(row.get("last_range")))
                  + "\" are none; the ledger of a sweep has to be as Plumbline wrote it. Remove"
                  + " it, and the sweep begins anew.",
              null);
        }
        finished.set(first, last + 1);
      }
    }
  }

  /** The number of a range; -1 where a text is none. */
  private static int range(String text) {
    boolean plain = text != null && text.matches("[0-9]{1,10}");
    return plain && Long.parseLong(text) < Sweep.MOST_RANGES ? Integer.parseInt(text) : -1;
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
