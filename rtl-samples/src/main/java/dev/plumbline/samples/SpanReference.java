package dev.plumbline.samples;

import dev.plumbline.contract.Reference;
import dev.plumbline.contract.Suspect;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.span.Distances;
import dev.plumbline.models.span.SpanList;
import dev.plumbline.models.span.SpanOperator;
import java.util.ArrayList;
import java.util.List;

/**
 * What {@link SpanList} makes of two lists of spans, as a reference for the span combiner: operands
 * {@code operator}, and for either list its {@code count} and the {@code distance}, {@code surface}
 * and {@code reversed} of each end. {@code clocks} is how many distinct distances there are.
 *
 * @param word format of distances
 * @param surfaceBits of a surface's number
 * @param spans most of a list
 */
record SpanReference(Format word, int surfaceBits, int spans) implements Reference {
  private static final List<String> SIDES = List.of("left_", "right_");
  private static final SpanOperator[] OPERATORS = SpanOperator.values();

  @Override
  public String name() {
    return "combined spans";
  }

  int ends() {
    return 2 * spans;
  }

  Format count() {
    return Format.unsigned(Integer.SIZE - Integer.numberOfLeadingZeros(spans), 0);
  }

  @Override
  public List<Operand> inputs() {
    List<Operand> inputs = new ArrayList<>();
    inputs.add(new Operand("operator", Format.unsigned(2, 0)));
    SIDES.forEach(side -> addList(side, inputs));
    return inputs;
  }

  @Override
  public List<Operand> outputs() {
    List<Operand> outputs = new ArrayList<>();
    addList("", outputs);
    outputs.add(new Operand("overflow", Format.bit()));
    outputs.add(new Operand("clocks", Format.unsigned(8, 0)));
    return outputs;
  }

  private void addList(String side, List<Operand> to) {
    to.add(new Operand(side + "count", count()));
    for (int end = 0; end < ends(); end++) {
      to.add(new Operand(side + "distance_" + end, word));
      to.add(new Operand(side + "surface_" + end, Format.unsigned(surfaceBits, 0)));
      to.add(new Operand(side + "reversed_" + end, Format.bit()));
    }
  }

  @Override
  public boolean isExact() {
    return true;
  }

  @Override
  public List<Suspect> suspects() {
    return SpanMistakes.of(this);
  }

  @Override
  public Evaluation open(int capacity) {
    return new Combining(capacity);
  }

  /**
   * For one thread. A surface's number in the lists is where that end stands among the operands.
   */
  private final class Combining implements Evaluation {
    private static final int OF_END = 3;

    private final long[][] in;
    private final long[][] out;
    private final SpanList[] lists = new SpanList[SIDES.size()];
    private final SpanList result;

    Combining(int capacity) {
      in = new long[inputs().size()][capacity];
      out = new long[outputs().size()][capacity];
      Distances codes = Distances.codes(word);
      lists[0] = SpanList.of(codes, spans);
      lists[1] = SpanList.of(codes, spans);
      result = SpanList.of(codes, spans);
    }

    /** Where a list's operands begin. */
    private int count(int side) {
      return 1 + side * (1 + OF_END * ends());
    }

    private static int end(int count, int end) {
      return count + 1 + OF_END * end;
    }

    @Override
    public long[] input(int operand, int wordOfIt) {
      return in[operand];
    }

    @Override
    public void run(int cases) {
      for (int row = 0; row < cases; row++) {
        for (int side = 0; side < lists.length; side++) {
          lists[side].clear();
          int count = count(side);
          for (int span = 0; span < in[count][row]; span++) {
            int entry = end(count, 2 * span);
            int exit = end(count, 2 * span + 1);
            lists[side].add(in[entry][row], in[exit][row], entry, exit);
          }
        }
        int operator = (int) Math.min(in[0][row], OPERATORS.length - 1);
        int distances = result.combine(OPERATORS[operator], lists[0], lists[1]);
        store(row);
        out[out.length - 2][row] = result.overflowed() ? 1 : 0;
        out[out.length - 1][row] = Math.max(1, distances);
      }
    }

    private void store(int row) {
      out[0][row] = result.count();
      for (int end = 0; end < ends(); end++) {
        int to = end(0, end);
        boolean there = end < 2 * result.count();
        int from = there ? result.surface(end) : 0;
        out[to][row] = there ? result.distance(end) : 0;
        out[to + 1][row] = there ? in[from + 1][row] : 0;
        out[to + 2][row] = there ? in[from + 2][row] ^ (result.isReversed(end) ? 1 : 0) : 0;
      }
    }

    @Override
    public long[] low(int output, int wordOfIt) {
      return out[output];
    }

    @Override
    public long[] high(int output, int wordOfIt) {
      return out[output];
    }
  }
}
