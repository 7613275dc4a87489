package dev.plumbline.explain;

import dev.plumbline.contract.Flow;
import dev.plumbline.cosim.DutException;
import dev.plumbline.drive.CaseRows;
import dev.plumbline.drive.Script;
import dev.plumbline.drive.Segment;
import dev.plumbline.judge.ContractRunner;
import dev.plumbline.judge.ScriptRecorder;
import dev.plumbline.judge.SegmentRunner;
import dev.plumbline.judge.Tally;
import dev.plumbline.run.ContractSubject;
import dev.plumbline.run.Explained;
import dev.plumbline.run.Explainer;
import dev.plumbline.verdict.Layout;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.MismatchGroup;
import dev.plumbline.verdict.MismatchGroup.Hypothesis;
import dev.plumbline.window.EndFacts;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Explains the mismatches of a contract's cases. */
public final class Explanations implements Explainer {
  /** Most groups of which the smallest case is looked for; further ones are counted. */
  private static final int MOST_GROUPS = 3;

  /** Most rows of a case that is kept: where time ran out it may be anything but small. */
  private static final int MOST_ROWS = 20_000;

  @Override
  public Explained explain(
      String bench, ContractSubject subject, SegmentRunner.Result failing, List<Mismatch> kept) {
    List<MismatchGroup> groups = new ArrayList<>();
    List<Integer> changes = List.of();
    for (Map.Entry<Tally.Group, List<Long>> one : failing.tally().groups().entrySet()) {
      if (groups.size() < MOST_GROUPS) {
        Explained next = explained(bench, subject, failing, kept, one);
        changes = groups.isEmpty() ? next.changes() : changes;
        groups.addAll(next.groups());
      } else {
        groups.add(counted(subject, kept, one));
      }
    }
    return new Explained(groups, changes);
  }

  @Override
  public List<MismatchGroup> explainEnd(
      String bench, ContractSubject subject, Segment segment, DutException end) {
    ContractRunner runner =
        new ContractRunner(subject.binding(), subject.settings(), subject.maker());
    ScriptRecorder recorder = new ScriptRecorder(end.cycle());
    try {
      runner.run(segment, recorder);
      return List.of(); // it did not end again
    } catch (DutException again) {
      if (!end.isAlike(again)) {
        return List.of();
      }
    }
    Optional<Script> smallest =
        new SmallestCase(
                subject.binding().contract(),
                script -> {
                  try {
                    runner.play(script, (row, feed, checker) -> {});
                    return false;
                  } catch (DutException again) {
                    return end.isAlike(again);
                  }
                })
            .of(recorder.script(segment))
            .filter(script -> script.lines().size() <= MOST_ROWS);
    String words = EndFacts.brief(end);
    return List.of(
        new MismatchGroup(
            words,
            1,
            smallest.map(script -> new CaseRows(subject.binding()).keep(script, bench, words)),
            smallest.map(Explanations::size).orElse(""),
            List.of(),
            0));
  }

  private static MismatchGroup counted(
      ContractSubject subject, List<Mismatch> kept, Map.Entry<Tally.Group, List<Long>> group) {
    String words = words(subject, kept, group.getKey(), group.getValue().get(0));
    return new MismatchGroup(words, group.getValue().size(), Optional.empty(), "", List.of(), 0);
  }

  private static Explained explained(
      String bench,
      ContractSubject subject,
      SegmentRunner.Result failing,
      List<Mismatch> kept,
      Map.Entry<Tally.Group, List<Long>> group) {
    long row = group.getValue().get(0);
    String words = words(subject, kept, group.getKey(), row);
    ContractRunner runner =
        new ContractRunner(subject.binding(), subject.settings(), subject.maker());
    Optional<Script> smallest = smallest(runner, subject, failing, group.getKey(), row);
    Hypotheses hypotheses = new Hypotheses(runner, subject.binding(), failing.segment());
    List<Hypothesis> likely = List.of();
    try {
      likely =
          hypotheses.of(
              group.getKey(), row, kept.stream().filter(each -> each.cycle() == row).findFirst());
    } catch (IllegalArgumentException | ArithmeticException e) {
      // The reference is for other cases than those that were made to tell explanations apart.
    }
    MismatchGroup found =
        new MismatchGroup(
            words,
            group.getValue().size(),
            smallest.map(script -> new CaseRows(subject.binding()).keep(script, bench, words)),
            smallest.map(Explanations::size).orElse(""),
            likely,
            hypotheses.tried());
    return new Explained(List.of(found), hypotheses.changes());
  }

  private static Optional<Script> smallest(
      ContractRunner runner,
      ContractSubject subject,
      SegmentRunner.Result failing,
      Tally.Group group,
      long row) {
    ScriptRecorder recorder = new ScriptRecorder(row);
    try {
      runner.run(failing.segment(), recorder);
    } catch (DutException e) {
      return Optional.empty(); // it ends in the block of the mismatch, after it
    }
    return new SmallestCase(runner, subject.binding().contract(), group)
        .of(recorder.script(failing.segment()))
        .filter(script -> script.lines().size() <= MOST_ROWS);
  }

  /** What the first of a group is, where it is among those that are kept; else at first sight. */
  private static String words(
      ContractSubject subject, List<Mismatch> kept, Tally.Group group, long row) {
    for (Mismatch mismatch : kept) {
      if (mismatch.cycle() == row) {
        return mismatch.words() + " at " + mismatch.signal();
      }
    }
    Layout layout = subject.layout();
    Flow flow = subject.binding().contract().flow();
    String signal =
        group.output() >= 0 ? layout.outputPorts().get(group.output()) : flow.outValid();
    return group.kind() + " at " + signal;
  }

  private static String size(Script script) {
    int cases = script.cases();
    int rows = script.lines().size();
    return cases
        + (cases == 1 ? " case in " : " cases in ")
        + rows
        + (rows == 1 ? " cycle" : " cycles")
        + (script.lines().stream().anyMatch(Script.Line::reset) ? ", the reset included" : "");
  }
}
