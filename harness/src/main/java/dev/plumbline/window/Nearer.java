package dev.plumbline.window;

import dev.plumbline.cosim.DutException;
import dev.plumbline.drive.Binding;
import dev.plumbline.drive.Engine;
import dev.plumbline.drive.Script;
import dev.plumbline.drive.Segment;
import dev.plumbline.drive.Settings;
import dev.plumbline.judge.ContractRunner;
import dev.plumbline.judge.ScriptRecorder;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Row;
import java.util.Optional;

/**
 * A mismatch that is far from the start of its segment, shown by its last rows alone behind a
 * reset: looking inside then takes a second in place of minutes.
 *
 * @param script those rows
 * @param mismatch the same mismatch as the script has it
 */
public record Nearer(Script script, Mismatch mismatch) {
  /** So many rows and fewer are looked through from the start. */
  public static final int FAR = 2 * ScriptRecorder.MOST_ROWS;

  /** Empty where the last rows alone show another mismatch, or none. */
  public static Optional<Nearer> of(
      Binding binding, Settings settings, Engine.Maker maker, Segment segment, Mismatch far) {
    ContractRunner runner = new ContractRunner(binding, settings, maker);
    ScriptRecorder recorder = new ScriptRecorder(far.cycle());
    try {
      runner.run(segment, recorder);
      Script script = recorder.script(segment);
      long[] rows = runner.play(script, (row, feed, checker) -> {}).tally().rows();
      if (rows.length == 0) {
        return Optional.empty();
      }
      WindowRecorder window =
          new WindowRecorder(binding, new long[] {rows[0]}, Timing.reach(binding));
      runner.play(script, window);
      Row row = window.rows().get(rows[0]);
      Mismatch near =
          new Mismatch(
              far.kind(),
              far.cycles(),
              rows[0],
              row.caseOut(),
              far.signal(),
              far.output(),
              far.actual(),
              far.low(),
              far.high());
      boolean same =
          far.output().isEmpty() || row.outputs().get(far.output().getAsInt()).equals(far.actual());
      return same ? Optional.of(new Nearer(script, near)) : Optional.empty();
    } catch (DutException e) {
      return Optional.empty(); // it ends soon after the mismatch
    }
  }
}
