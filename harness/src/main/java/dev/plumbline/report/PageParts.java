package dev.plumbline.report;

import dev.plumbline.evidence.EvidenceFolder;
import dev.plumbline.verdict.CodeText;
import dev.plumbline.verdict.Deviation;
import dev.plumbline.verdict.Inside;
import dev.plumbline.verdict.MismatchGroup;
import dev.plumbline.verdict.Stage;
import dev.plumbline.verdict.Verdict;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** What the page shows of a verdict beside its facts: small tables, and counts as bars. */
final class PageParts {
  /** Signals whose lines are shown. */
  private static final int MOST_SIGNALS = 3;

  private PageParts() {}

  static List<FactTable> tables(Verdict verdict) {
    List<FactTable> tables = new ArrayList<>();
    Inside inside = verdict.findings().inside();
    if (!inside.stages().isEmpty()) {
      tables.add(stages(inside.stages()));
    }
    wrong(inside).stream()
        .map(wrong -> RtlLines.of(wrong.signal(), wrong.location()))
        .flatMap(Optional::stream)
        .distinct()
        .limit(MOST_SIGNALS)
        .forEach(tables::add);
    List<List<String>> groups = new ArrayList<>();
    for (int i = 0; i < verdict.groups().size(); i++) {
      MismatchGroup group = verdict.groups().get(i);
      groups.add(
          List.of(
              group.words(),
              Long.toString(group.count()),
              String.join("; ", group.likely().stream().map(Object::toString).toList()),
              group.smallest().isEmpty() ? "" : "case-" + (i + 1) + ".csv, " + group.size()));
    }
    if (!groups.isEmpty()) {
      tables.add(
          new FactTable(
              "Mismatches that are alike",
              List.of("mismatch", "rows", "likely", "smallest case"),
              groups,
              -1));
    }
    return tables;
  }

  /** The signals that are wrong first; where none is known, that of the first step that differs. */
  private static List<Inside.Wrong> wrong(Inside inside) {
    return !inside.firstWrong().isEmpty()
        ? inside.firstWrong()
        : inside.stages().stream()
            .filter(stage -> stage.relation() == Stage.Relation.DIFFERS)
            .limit(1)
            .map(stage -> new Inside.Wrong(stage.signal(), stage.location()))
            .toList();
  }

  /** The first step that differs stands off. */
  private static FactTable stages(List<Stage> stages) {
    int marked = -1;
    List<List<String>> rows = new ArrayList<>();
    for (Stage stage : stages) {
      if (marked < 0 && stage.relation() == Stage.Relation.DIFFERS) {
        marked = rows.size();
      }
      rows.add(
          List.of(
              stage.step().name(),
              stage.relation().toString(),
              code(stage, stage.expected()),
              code(stage, stage.actual()),
              stage.signal(),
              stage.location()));
    }
    return new FactTable(
        "Steps of the reference inside the DUT",
        List.of("step", "relation", "expected", "actual", "signal", "declared at"),
        rows,
        marked);
  }

  private static String code(Stage stage, BigInteger code) {
    return code == null ? "" : CodeText.both(stage.step(), code);
  }

  /** The pictures, by the names of their files. */
  static List<LedgerEntry.Figure> figures(Verdict verdict) {
    return verdict.pictures().stream()
        .map(
            shown ->
                new LedgerEntry.Figure(
                    shown.file() + EvidenceFolder.PICTURE,
                    shown.caption(),
                    shown.picture().width(),
                    shown.picture().height()))
        .toList();
  }

  /** How far the results of each output were off. */
  static List<Bars> charts(Verdict verdict) {
    return verdict.checked().deviations().stream().map(PageParts::bars).toList();
  }

  private static Bars bars(Deviation deviation) {
    List<Bars.Bar> bars = new ArrayList<>();
    for (int k = 0; k < deviation.histogram().size(); k++) {
      bars.add(new Bars.Bar(Deviation.label(k), deviation.histogram().get(k)));
    }
    while (!bars.isEmpty() && bars.get(bars.size() - 1).count() == 0) {
      bars.remove(bars.size() - 1);
    }
    return new Bars("Results of " + deviation.output() + " by LSB off", bars);
  }
}
