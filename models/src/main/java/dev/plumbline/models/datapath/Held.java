package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;

/**
 * What one register holds in one kind of evaluation, in columns of many cases or of one. In each
 * case it shows what it holds, and later takes what it will hold in the next.
 */
interface Held {
  /** The initial state. */
  void begin();

  /** Shows what it holds at a place of its column. */
  void show(int at);

  /** Takes the next value, from a place of its column. */
  void take(int at);

  /** One code. */
  static Held bits(Columns columns, Value register) {
    RegisterStep step = (RegisterStep) register.step();
    Lane shown = columns.lane(register);
    Lane next = columns.lane(step.next());
    long[] enable = step.enable() == null ? null : columns.lane(step.enable()).low;
    Lane kept = new Lane(1, shown.wide());
    return new Held() {
      @Override
      public void begin() {
        kept.fill(step.initial());
      }

      @Override
      public void show(int at) {
        shown.set(at, kept.high(0), kept.low[0]);
      }

      @Override
      public void take(int at) {
        if (enable == null || enable[at] != 0) {
          kept.set(0, next.high(at), next.low[at]);
        }
      }
    };
  }

  /** A real. */
  static Held ideal(IdealColumns columns, Value register) {
    RegisterStep step = (RegisterStep) register.step();
    double[] shown = columns.of(register);
    double[] next = columns.of(step.next());
    double[] enable = step.enable() == null ? null : columns.of(step.enable());
    double initial = step.initial().doubleValue() * register.format().lsbs();
    double[] kept = new double[1];
    return new Held() {
      @Override
      public void begin() {
        kept[0] = initial;
      }

      @Override
      public void show(int at) {
        shown[at] = kept[0];
      }

      @Override
      public void take(int at) {
        if (enable == null || enable[at] != 0) {
          kept[0] = enable != null && Double.isNaN(enable[at]) ? Double.NaN : next[at];
        }
      }
    };
  }

  /** Both ends of an interval, and for how many cases it has been every code of its format. */
  final class Bounds implements Held {
    private final Value register;
    private final RegisterStep step;
    private final Lane[] shown;
    private final Lane[] next;
    private final Lane[] enable; // or null
    private final Lane[] kept;
    private final Clamp whole;
    private final boolean counted;
    private long open;

    Bounds(BoundColumns columns, Value register) {
      this.register = register;
      this.step = (RegisterStep) register.step();
      this.shown = ends(columns, register);
      this.next = ends(columns, step.next());
      this.enable = step.enable() == null ? null : ends(columns, step.enable());
      this.kept = new Lane[] {new Lane(1, shown[0].wide()), new Lane(1, shown[0].wide())};
      Format format = register.format();
      this.whole =
          new Clamp(
              new Range(
                  format.minCode().add(BigInteger.ONE), format.maxCode().subtract(BigInteger.ONE)));
      this.counted = format.width() > 1 && shown[0] != shown[1];
    }

    private static Lane[] ends(BoundColumns columns, Value value) {
      return new Lane[] {columns.low(value), columns.high(value)};
    }

    Value register() {
      return register;
    }

    /** For how many cases in a row up to now it may have been any code. */
    long open() {
      return open;
    }

    /** The distance of both ends in LSB, as near as a double comes. */
    double width() {
      return Wide.toDouble(kept[1].high(0), kept[1].low[0])
          - Wide.toDouble(kept[0].high(0), kept[0].low[0]);
    }

    @Override
    public void begin() {
      kept[0].fill(step.initial());
      kept[1].fill(step.initial());
      open = 0;
    }

    @Override
    public void show(int at) {
      for (int end = 0; end < 2; end++) {
        shown[end].set(at, kept[end].high(0), kept[end].low[0]);
      }
    }

    @Override
    public void take(int at) {
      boolean must = enable == null || enable[0].low[at] != 0;
      boolean may = enable == null || enable[1].low[at] != 0;
      if (must || may) {
        take(0, must || less(next[0], at, kept[0], 0), at);
        take(1, must || less(kept[1], 0, next[1], at), at);
      }
      boolean every =
          counted
              && whole.below(kept[0].high(0), kept[0].low[0])
              && whole.above(kept[1].high(0), kept[1].low[0]);
      open = every ? open + 1 : 0;
    }

    private void take(int end, boolean taken, int at) {
      if (taken) {
        kept[end].set(0, next[end].high(at), next[end].low[at]);
      }
    }

    private static boolean less(Lane a, int i, Lane b, int k) {
      return Wide.less(a.high(i), a.low[i], b.high(k), b.low[k]);
    }
  }
}
