package dev.plumbline.samples.speed;

import dev.plumbline.evidence.CsvTable;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** The table of a benchmark run: printed line by line as it grows, written as CSV at the end. */
final class Speeds {
  private static final String LINE = "%-15s %-52s %12s %12s %12s  %-13s %7s  %s%n";

  private final List<List<?>> rows = new ArrayList<>();

  Speeds() {
    System.out.printf(
        Locale.ROOT, LINE, "group", "what", "median", "least", "most", "unit", "ratio", "target");
  }

  /** A row; the ratio is to that of the same group which it names, or NaN. */
  void add(String group, String what, Sample sample, String unit, double ratio, String target) {
    System.out.printf(
        Locale.ROOT,
        LINE,
        group,
        what,
        number(sample.median()),
        number(sample.least()),
        number(sample.most()),
        unit,
        Double.isNaN(ratio) ? "" : String.format(Locale.ROOT, "%.3f", ratio),
        target);
    rows.add(
        List.of(
            group,
            what,
            cell(sample.median()),
            cell(sample.least()),
            cell(sample.most()),
            sample.count(),
            unit,
            cell(ratio),
            target));
  }

  private static String number(double value) {
    return value >= 1000
        ? String.format(Locale.ROOT, "%,.0f", value)
        : String.format(Locale.ROOT, "%.3f", value);
  }

  void writeTo(Path file) {
    CsvTable table =
        new CsvTable(
            "group", "what", "median", "least", "most", "repetitions", "unit", "ratio", "target");
    rows.forEach(table::add);
    table.writeTo(file);
    System.out.println("Written to " + file);
  }

  private static Object cell(double value) {
    return Double.isNaN(value) ? "" : CsvTable.number(String.format(Locale.ROOT, "%.4f", value));
  }
}
