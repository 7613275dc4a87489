package dev.plumbline.lockstep;

import dev.plumbline.models.span.Distances;
import dev.plumbline.models.span.SpanList;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.function.IntFunction;
import java.util.stream.LongStream;

/** Two lists of spans as text, one above the other on a common axis of distance. */
final class SpanDrawing {
  private static final int WIDTH = 64;

  /** One end of a span; the text of its surface may be empty. */
  record End(long distance, String surface, boolean reversed) {
    private String text(Distances scale, boolean isEntry) {
      boolean open = distance == (isEntry ? scale.lowest() : scale.highest());
      return open ? "open" : real(scale, distance) + named() + (reversed ? "'" : "");
    }

    private String named() {
      return surface.isEmpty() ? "" : " " + surface;
    }
  }

  private final Distances scale;
  private final long least;
  private final long most;

  private SpanDrawing(Distances scale, long least, long most) {
    this.scale = scale;
    this.least = least;
    this.most = most;
  }

  /** The ends of a list of the model. */
  static List<End> ends(SpanList list, IntFunction<String> surfaces) {
    List<End> ends = new ArrayList<>();
    for (int end = 0; end < 2 * list.count(); end++) {
      ends.add(
          new End(list.distance(end), surfaces.apply(list.surface(end)), list.isReversed(end)));
    }
    return ends;
  }

  /** Three lines and the axis: what was expected, what came, and what they are in numbers. */
  static List<String> of(Distances scale, List<End> expected, List<End> actual) {
    long[] closed =
        LongStream.concat(
                expected.stream().mapToLong(End::distance),
                actual.stream().mapToLong(End::distance))
            .filter(distance -> distance != scale.lowest() && distance != scale.highest())
            .sorted()
            .toArray();
    List<String> lines = new ArrayList<>();
    if (closed.length > 0) {
      SpanDrawing drawing = new SpanDrawing(scale, closed[0], closed[closed.length - 1]);
      lines.add("expected  " + drawing.line(expected));
      lines.add("actual    " + drawing.line(actual));
      lines.add("          " + drawing.axis());
    }
    lines.add("expected  " + numbers(scale, expected));
    lines.add("actual    " + numbers(scale, actual));
    return lines;
  }

  private String line(List<End> ends) {
    if (ends.isEmpty()) {
      return "nothing";
    }
    char[] line = " ".repeat(WIDTH).toCharArray();
    for (int end = 0; end + 1 < ends.size(); end += 2) {
      int from = place(ends.get(end).distance());
      int to = place(ends.get(end + 1).distance());
      for (int i = from; i < to; i++) {
        line[i] = '=';
      }
      line[from] = from == 0 ? '<' : '[';
      line[to] = to == WIDTH - 1 ? '>' : ')';
    }
    return new String(line);
  }

  /** Open ends stand at the margins, all others between. */
  private int place(long distance) {
    if (distance == scale.lowest()) {
      return 0;
    }
    if (distance == scale.highest()) {
      return WIDTH - 1;
    }
    double share = most == least ? 0.5 : ((double) distance - least) / ((double) most - least);
    return 2 + (int) Math.round(share * (WIDTH - 5));
  }

  private String axis() {
    String left = real(scale, least);
    String right = most == least ? "" : real(scale, most);
    int gap = Math.max(1, WIDTH - 4 - left.length() - right.length());
    return "  " + left + (most == least ? "" : "-".repeat(gap)) + right;
  }

  private static String numbers(Distances scale, List<End> ends) {
    StringBuilder text = new StringBuilder();
    for (int end = 0; end + 1 < ends.size(); end += 2) {
      text.append(end == 0 ? "" : " ").append('[').append(ends.get(end).text(scale, true));
      text.append(", ").append(ends.get(end + 1).text(scale, false)).append(')');
    }
    return text.isEmpty() ? "nothing" : text.toString();
  }

  private static String real(Distances scale, long distance) {
    double real = scale.toReal(distance);
    return Double.isInfinite(real)
        ? String.format(Locale.ROOT, "%s", real)
        : new BigDecimal(real)
            .setScale(8, RoundingMode.HALF_EVEN)
            .stripTrailingZeros()
            .toPlainString();
  }
}
