package dev.plumbline.evidence;

import dev.plumbline.verdict.CodeText;
import dev.plumbline.verdict.Stage;
import java.math.BigInteger;
import java.util.List;

/**
 * {@code stages.csv}: the reference's steps in their order, each beside the signal that is the same
 * inside the DUT, for the case of the first mismatch.
 */
final class StageTable {
  private StageTable() {}

  static CsvTable of(List<Stage> stages) {
    CsvTable table =
        new CsvTable(
            "step",
            "format",
            "relation",
            "expected",
            "expected_real",
            "actual",
            "actual_real",
            "signal",
            "location",
            "cycles",
            "how");
    for (Stage stage : stages) {
      table.add(
          stage.step().name(),
          stage.step().meaning(),
          stage.relation().toString(),
          CodeText.hex(stage.step().format(), stage.expected()),
          real(stage, stage.expected()),
          stage.actual() == null ? null : CodeText.hex(stage.step().format(), stage.actual()),
          real(stage, stage.actual()),
          stage.signal().isEmpty() ? null : stage.signal(),
          stage.location().isEmpty() ? null : stage.location(),
          stage.delay() < 0 ? null : stage.delay(),
          stage.how());
    }
    return table;
  }

  private static Object real(Stage stage, BigInteger code) {
    return CsvTable.real(stage.step(), code);
  }
}
