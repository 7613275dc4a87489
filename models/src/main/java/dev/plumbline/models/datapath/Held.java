package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;

/** What one register holds in one kind of evaluation; all take in first, then all give out. */
interface Held {
  /** The initial state. */
  void begin();

  /** Looks at the next value, and keeps it aside. */
  void take();

  /** Shows what was kept. */
  void show();

  /** One code, in lanes of one case. */
  static Held bits(Columns cells, Value register) {
    Register step = (Register) register.step();
    Lane now = cells.lane(register);
    Lane next = cells.lane(step.next());
    Lane enable = step.enable() == null ? null : cells.lane(step.enable());
    Lane kept = new Lane(1, now.wide());
    return new Held() {
      @Override
      public void begin() {
        now.fill(step.initial());
      }

      @Override
      public void take() {
        Lane from = enable == null || enable.low[0] != 0 ? next : now;
        kept.set(0, from.high(0), from.low[0]);
      }

      @Override
      public void show() {
        now.set(0, kept.high(0), kept.low[0]);
      }
    };
  }

  /** A real. */
  static Held ideal(IdealColumns cells, Value register) {
    Register step = (Register) register.step();
    double[] now = cells.of(register);
    double[] next = cells.of(step.next());
    double[] enable = step.enable() == null ? null : cells.of(step.enable());
    double initial = step.initial().doubleValue() * register.format().lsbs();
    double[] kept = new double[1];
    return new Held() {
      @Override
      public void begin() {
        now[0] = initial;
      }

      @Override
      public void take() {
        kept[0] = enable == null || enable[0] != 0 ? next[0] : now[0];
        if (enable != null && Double.isNaN(enable[0])) {
          kept[0] = Double.NaN;
        }
      }

      @Override
      public void show() {
        now[0] = kept[0];
      }
    };
  }

  /** Both ends of an interval, and for how many cases it has been every code of its format. */
  final class Bounds implements Held {
    private final Value register;
    private final Register step;
    private final Lane[] now;
    private final Lane[] next;
    private final Lane[] enable; // or null
    private final Lane[] kept;
    private final Clamp whole;
    private final boolean counted;
    private long open;

    Bounds(BoundColumns cells, Value register) {
      this.register = register;
      this.step = (Register) register.step();
      this.now = ends(cells, register);
      this.next = ends(cells, step.next());
      this.enable = step.enable() == null ? null : ends(cells, step.enable());
      this.kept = new Lane[] {new Lane(1, now[0].wide()), new Lane(1, now[0].wide())};
      Format format = register.format();
      this.whole =
          new Clamp(
              new Range(
                  format.minCode().add(BigInteger.ONE), format.maxCode().subtract(BigInteger.ONE)));
      this.counted = format.width() > 1;
    }

    private static Lane[] ends(BoundColumns cells, Value value) {
      return new Lane[] {cells.low(value), cells.high(value)};
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
      return Wide.toDouble(now[1].high(0), now[1].low[0])
          - Wide.toDouble(now[0].high(0), now[0].low[0]);
    }

    @Override
    public void begin() {
      now[0].fill(step.initial());
      now[1].fill(step.initial());
      open = 0;
    }

    @Override
    public void take() {
      boolean must = enable == null || enable[0].low[0] != 0;
      boolean may = enable == null || enable[1].low[0] != 0;
      for (int end = 0; end < 2; end++) {
        Lane from = must ? next[end] : now[end];
        if (!must && may) {
          boolean less = less(next[end], now[end]);
          from = less == (end == 0) ? next[end] : now[end];
        }
        kept[end].set(0, from.high(0), from.low[0]);
      }
    }

    private static boolean less(Lane a, Lane b) {
      return Wide.less(a.high(0), a.low[0], b.high(0), b.low[0]);
    }

    @Override
    public void show() {
      for (int end = 0; end < 2; end++) {
        now[end].set(0, kept[end].high(0), kept[end].low[0]);
      }
      boolean every =
          counted
              && whole.below(now[0].high(0), now[0].low[0])
              && whole.above(now[1].high(0), now[1].low[0]);
      open = every ? open + 1 : 0;
    }
  }
}
