package dev.plumbline.drive;

import java.util.List;

/**
 * Everything that a DUT is given, row by row from its start, where no chance is left. What comes
 * after the last line is idle: no reset, ready, cases that are left over one after the other.
 *
 * @param start the state that the DUT wakes up in
 * @param seed of the segment that it was kept of
 * @param state which of the states by chance
 * @param lines one a row
 */
public record Script(Engine.Start start, long seed, int state, List<Line> lines) {
  public Script {
    lines = List.copyOf(lines);
  }

  /**
   * One row.
   *
   * @param words operand after operand, each in its words; null where there is none. In a row that
   *     is valid and not reset they are a case; under several beats they stand in the row of one
   */
  @SuppressWarnings("ArrayRecordComponent") // words as everywhere here; lines are not compared
  public record Line(boolean reset, boolean valid, boolean ready, long[] words) {
    public boolean isCase() {
      return valid && !reset && words != null;
    }
  }

  public int cases() {
    return (int) lines.stream().filter(Line::isCase).count();
  }

  public Script with(List<Line> others) {
    return new Script(start, seed, state, others);
  }

  public Script startingFrom(Engine.Start other) {
    return new Script(other, seed, other == Engine.Start.RANDOM ? state : 0, lines);
  }

  /** The segment that it is run as. */
  public Segment segment() {
    return new Segment(Segment.OF_A_SCRIPT, 0, cases(), seed, start, state, true);
  }
}
