package dev.plumbline.window;

import dev.plumbline.drive.Binding;
import dev.plumbline.judge.Tally;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Row;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.NavigableMap;
import java.util.Optional;
import java.util.TreeMap;

/**
 * The rows of a contract's DUT.
 *
 * @param binding what they are of
 * @param rows by cycle
 * @param origins rows at which the cases of mismatches went in, by case
 * @param text what the DUT printed
 */
public record ContractRecording(
    Binding binding, NavigableMap<Long, Row> rows, Map<Long, Row> origins, String text)
    implements Recording {
  /** Rows kept before and after a mismatch. */
  private static final int BEFORE = 12;

  private static final int AFTER = 6;

  /** Rows kept before the cycle in which a DUT ends by itself. */
  public static final int BEFORE_END = 32;

  @Override
  public List<Stream> streams() {
    return List.of(new Stream(binding.layout(), rows));
  }

  @Override
  public Explanation explain(Tally tally) {
    Diagnosis diagnosis = new Diagnosis(binding, rows);
    List<Mismatch> kept = new ArrayList<>();
    for (int i = 0; i < tally.rows().length; i++) {
      kept.add(diagnosis.of(tally.rows()[i], tally.kinds()[i]));
    }
    return new Explanation(kept, 0, diagnosis.timing(kept.get(0)).stream().toList());
  }

  @Override
  public Optional<Row> origin(long caseNumber) {
    return Optional.ofNullable(origins.get(caseNumber));
  }

  @Override
  public List<Row> window(int stream, List<Mismatch> kept) {
    Diagnosis diagnosis = new Diagnosis(binding, rows);
    if (kept.isEmpty()) {
      return List.copyOf(rows.values()); // up to where the DUT ended
    }
    TreeMap<Long, Row> window = new TreeMap<>();
    for (Mismatch mismatch : kept) {
      window.putAll(rows.subMap(mismatch.cycle() - BEFORE, true, mismatch.cycle() + AFTER, true));
      Row origin = origins.get(mismatch.caseNumber());
      if (origin != null) {
        window.putIfAbsent(origin.cycle(), origin);
      }
    }
    for (Mismatch mismatch : kept) {
      window.computeIfPresent(mismatch.cycle(), (cycle, row) -> row.withVerdict(mismatch.words()));
    }
    window.replaceAll(
        (cycle, row) ->
            row.verdict().equals("ok") && !diagnosis.isValid(row)
                ? row.withVerdict(Mismatch.Kind.VALID_MISSING.toString())
                : row.verdict().equals("ok") && row.wrong().contains(true)
                    ? row.withVerdict(Mismatch.Kind.VALUE_WRONG.toString())
                    : row);
    return List.copyOf(window.values());
  }
}
