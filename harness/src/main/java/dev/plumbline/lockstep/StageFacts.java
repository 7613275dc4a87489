package dev.plumbline.lockstep;

import dev.plumbline.verdict.CodeText;
import dev.plumbline.verdict.Fact;
import dev.plumbline.verdict.Stage;
import dev.plumbline.verdict.Stage.Relation;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** What there is to say of the first stage that differs. */
final class StageFacts {
  /** Stages named that are right: those nearest before the first that is not. */
  private static final int MOST_NAMED = 3;

  private StageFacts() {}

  /** Of stages in the order of the flow. */
  static List<Fact> of(List<Stage> stages) {
    Optional<Stage> wrong =
        stages.stream().filter(stage -> stage.relation() == Relation.DIFFERS).findFirst();
    Set<String> all = new LinkedHashSet<>();
    for (Stage stage : stages) {
      if (stage.relation() == Relation.DIFFERS) {
        break;
      }
      if (stage.relation() == Relation.AGREES) {
        all.add(stage.step().name() + " (" + stage.signal() + ")");
      }
    }
    List<String> agree = List.copyOf(all);
    List<String> lines = new ArrayList<>();
    if (!agree.isEmpty()) {
      int others = Math.max(0, agree.size() - MOST_NAMED);
      lines.add(
          "agree: "
              + String.join(", ", agree.subList(others, agree.size()))
              + (others > 0 ? " and " + others + " before them" : ""));
    }
    wrong.ifPresent(
        stage ->
            lines.add(
                "first to differ: "
                    + stage.step().name()
                    + " ("
                    + stage.signal()
                    + ", "
                    + stage.location()
                    + "), expected "
                    + CodeText.hex(stage.step().format(), stage.expected())
                    + ", actual "
                    + CodeText.hex(stage.step().format(), stage.actual())
                    + "; "
                    + stage.how()));
    return lines.isEmpty() ? List.of() : List.of(new Fact("stage", lines));
  }
}
