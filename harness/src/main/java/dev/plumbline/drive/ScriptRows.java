package dev.plumbline.drive;

import dev.plumbline.drive.Script.Line;
import java.util.List;

/** The rows of a script. */
final class ScriptRows implements RowContents {
  private final List<Line> script;
  private int next; // line after that of the last case

  ScriptRows(Script script) {
    this.script = script.lines();
  }

  private Line line(long row) {
    return row < script.size() ? script.get((int) row) : null;
  }

  @Override
  public boolean reset(long[] column, long[][] lines, long firstRow, int rows) {
    boolean any = false;
    for (int row = 0; row < rows; row++) {
      Line line = line(firstRow + row);
      column[row] = line != null && line.reset() ? 1 : 0;
      any |= column[row] != 0;
    }
    for (long[] each : lines) {
      System.arraycopy(column, 0, each, 0, rows);
    }
    return any;
  }

  @Override
  public int steadyRows(long firstRow, int most) {
    boolean reset = isReset(firstRow);
    int rows = 1;
    while (rows < most && isReset(firstRow + rows) == reset) {
      rows++;
    }
    return rows;
  }

  private boolean isReset(long row) {
    return line(row) != null && line(row).reset();
  }

  @Override
  public void offers(long[] column, long firstRow, int rows) {
    for (int row = 0; row < rows; row++) {
      Line line = line(firstRow + row);
      column[row] = line == null || line.valid() ? 1 : 0;
    }
  }

  @Override
  public void ready(long[] column, long firstRow, int rows) {
    for (int row = 0; row < rows; row++) {
      Line line = line(firstRow + row);
      column[row] = line == null || line.ready() ? 1 : 0;
    }
  }

  @Override
  public void cases(long[][][] columns, int count) {
    for (int n = 0; n < count; n++) {
      while (!script.get(next).isCase()) {
        next++;
      }
      store(script.get(next++), columns, n);
    }
  }

  @Override
  public void bubbles(long[][][] columns, long firstRow, int[] idle, int count, int rows) {
    for (int i = 0; i < count; i++) {
      store(line(firstRow + idle[i]), columns, idle[i]);
    }
  }

  private static void store(Line line, long[][][] columns, int row) {
    int at = 0;
    for (long[][] operand : columns) {
      for (long[] word : operand) {
        word[row] = line == null || line.words() == null ? 0 : line.words()[at];
        at++;
      }
    }
  }

  @Override
  public void validUnderReset(long[] valid, long[] reset, long firstRow, int rows) {
    for (int row = 0; row < rows; row++) {
      if (reset[row] != 0) {
        valid[row] = line(firstRow + row).valid() ? 1 : 0;
      }
    }
  }
}
