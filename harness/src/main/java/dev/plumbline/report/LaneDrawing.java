package dev.plumbline.report;

import dev.plumbline.text.PlainText;
import java.util.ArrayList;
import java.util.List;

/**
 * Lanes as the template draws them, in units of its drawing: how wide and high it is, and where
 * each thing stands.
 *
 * @param width of the drawing
 * @param height of the drawing
 * @param markX where the mark of the wrong cycle begins
 * @param markWidth how wide it is
 * @param heads the cycles
 * @param lanes one below the other
 */
record LaneDrawing(
    int width, int height, int markX, int markWidth, List<Head> heads, List<Line> lanes) {
  private static final double LETTER = 7.4; // a bit more than the font's 7.2
  private static final int CELL = 90;
  private static final int HEAD = 26;
  private static final int LANE = 30;
  private static final int BOX = 20;
  private static final int LONGEST = 11; // characters that find room in a cell

  /** A cycle's number, or how many are left out before it. */
  record Head(int x, String text, boolean off) {}

  /** A lane: its name, and what it shows; y is the middle of its text. */
  record Line(int y, int top, String name, String note, List<Cell> cells, List<Level> levels) {}

  /** A value. */
  record Cell(
      int x, int textX, int width, int top, int y, String text, String title, boolean off) {}

  /** A bit's line, as the points of a polyline; in one piece while it is known and right. */
  record Level(String points, boolean off) {}

  static LaneDrawing of(Lanes lanes) {
    int count = lanes.cycles().size();
    int names =
        lanes.lanes().stream()
            .mapToInt(lane -> (int) (LETTER * (lane.port().length() + lane.note().length() + 3)))
            .max()
            .orElse(0);
    List<Head> heads = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      boolean gap = i > 0 && lanes.cycles().get(i) > lanes.cycles().get(i - 1) + 1;
      heads.add(
          new Head(
              x(names, i) + CELL / 2,
              (gap ? "... " : "") + lanes.cycles().get(i),
              i == lanes.wrong()));
    }
    List<Line> lines = new ArrayList<>();
    for (Lanes.Lane lane : lanes.lanes()) {
      lines.add(line(lane, names, HEAD + lines.size() * LANE));
    }
    return new LaneDrawing(
        x(names, count) + 1,
        HEAD + lines.size() * LANE,
        x(names, lanes.wrong()),
        CELL,
        heads,
        lines);
  }

  private static int x(int names, int cycle) {
    return names + cycle * CELL;
  }

  private static Line line(Lanes.Lane lane, int names, int top) {
    List<Cell> cells = new ArrayList<>();
    List<Level> levels = new ArrayList<>();
    if (lane.bit()) {
      levels(lane, names, top, levels);
    } else {
      for (int i = 0; i < lane.codes().size(); i++) {
        if (!lane.codes().get(i).isEmpty()) {
          cells.add(cell(lane, names, i, top));
        }
      }
    }
    return new Line(
        top + LANE / 2 + 4, top, PlainText.line(lane.port()), lane.note(), cells, levels);
  }

  private static Cell cell(Lanes.Lane lane, int names, int i, int top) {
    String code = lane.codes().get(i);
    String brief = // the end differs where a result is off by little
        code.length() <= LONGEST ? code : "\u2026" + code.substring(code.length() - LONGEST + 1);
    return new Cell(
        x(names, i) + 1,
        x(names, i) + CELL / 2,
        CELL - 2,
        top + (LANE - BOX) / 2,
        top + LANE / 2 + 4,
        brief,
        code + "  " + lane.values().get(i),
        lane.off().get(i));
  }

  /** Up for 1, down for 0; a piece of its own where it is wrong or was not known before. */
  private static void levels(Lanes.Lane lane, int names, int top, List<Level> levels) {
    StringBuilder points = new StringBuilder();
    boolean off = false;
    for (int i = 0; i < lane.codes().size(); i++) {
      String bit = lane.codes().get(i);
      if (points.length() > 0 && (bit.isEmpty() || off != lane.off().get(i))) {
        levels.add(new Level(points.toString().strip(), off));
        points.setLength(0);
      }
      if (!bit.isEmpty()) {
        int y = top + LANE / 2 + (bit.equals("0") ? BOX / 2 : -BOX / 2);
        off = lane.off().get(i);
        points.append(' ').append(x(names, i)).append(',').append(y);
        points.append(' ').append(x(names, i + 1)).append(',').append(y);
      }
    }
    if (points.length() > 0) {
      levels.add(new Level(points.toString().strip(), off));
    }
  }
}
