package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;

/** What a fault does to the codes of a lane, in place. */
@FunctionalInterface
interface LaneChange {
  void apply(Lane lane, int count);

  /** This one, then another. */
  default LaneChange then(LaneChange next) {
    return (lane, count) -> {
      apply(lane, count);
      next.apply(lane, count);
    };
  }

  /** A code less, everywhere or where it is below 0. */
  static LaneChange lower(boolean onlyNegative) {
    return (lane, count) -> {
      for (int i = 0; i < count; i++) {
        long high = lane.high(i);
        if (!onlyNegative || high < 0) {
          lane.set(i, lane.low[i] == 0 ? high - 1 : high, lane.low[i] - 1);
        }
      }
    };
  }

  /** What belongs to the case so many rows on, or before where negative; the ends stay. */
  static LaneChange from(int rows) {
    return (lane, count) -> {
      move(lane.low, rows, count);
      if (lane.high != null) {
        move(lane.high, rows, count);
      }
    };
  }

  private static void move(long[] codes, int rows, int count) {
    int length = Math.max(0, count - Math.abs(rows));
    System.arraycopy(codes, Math.max(rows, 0), codes, Math.max(-rows, 0), length);
  }

  /**
   * What stood in the row before, in the place of what would have come in rows so far before others
   * in which no case is taken; outside of all rows one is.
   */
  static LaneChange held(boolean[] taken, int far) {
    return (lane, count) -> {
      for (int i = 1; i < count; i++) {
        int other = i + far;
        if (other >= 0 && other < count && !taken[other]) {
          lane.set(i, lane.high(i - 1), lane.low[i - 1]);
        }
      }
    };
  }

  /** The codes of another lane. */
  static LaneChange of(Lane other) {
    return (lane, count) -> {
      for (int i = 0; i < count; i++) {
        lane.set(i, other.high(i), other.low[i]);
      }
    };
  }

  /**
   * A bit of the lower word that is always 0 or always 1; the highest of a signed format of one
   * word extends.
   */
  static LaneChange stuck(Format format, int bit, boolean high) {
    long mask = 1L << bit;
    return (lane, count) -> {
      for (int i = 0; i < count; i++) {
        long code = high ? lane.low[i] | mask : lane.low[i] & ~mask;
        lane.low[i] = lane.wide() ? code : format.extend(code);
      }
    };
  }

  /** Some bits of the codes are the other ones, of a narrow lane. */
  static LaneChange flipped(Format format, long mask) {
    return (lane, count) -> {
      for (int i = 0; i < count; i++) {
        lane.low[i] = format.extend(lane.low[i] ^ mask);
      }
    };
  }

  /** The lowest bits alone, up to 127, read as a format of so many. */
  static LaneChange narrowed(int bits, boolean signed) {
    if (bits > Long.SIZE) {
      int unused = 2 * Long.SIZE - bits;
      return (lane, count) -> {
        for (int i = 0; i < count; i++) {
          long top = lane.high(i) << unused;
          lane.set(i, signed ? top >> unused : top >>> unused, lane.low[i]);
        }
      };
    }
    int unused = Long.SIZE - bits;
    return (lane, count) -> {
      for (int i = 0; i < count; i++) {
        long top = lane.low[i] << unused;
        long low = signed ? top >> unused : top >>> unused;
        lane.set(i, signed ? low >> 63 : 0, low);
      }
    };
  }

  /** A lower limit, of a narrow lane. */
  static LaneChange atLeast(long least) {
    return (lane, count) -> {
      for (int i = 0; i < count; i++) {
        lane.low[i] = Math.max(lane.low[i], least);
      }
    };
  }

  /** An upper limit, of a narrow lane. */
  static LaneChange atMost(long most) {
    return (lane, count) -> {
      for (int i = 0; i < count; i++) {
        lane.low[i] = Math.min(lane.low[i], most);
      }
    };
  }

  /** The lowest bits always 0, up to 63 of them. */
  static LaneChange without(int bits) {
    long kept = -1L << bits;
    return (lane, count) -> {
      for (int i = 0; i < count; i++) {
        lane.low[i] &= kept;
      }
    };
  }

  /** Another code in the place of one, of a narrow lane. */
  static LaneChange instead(long one, long other) {
    return (lane, count) -> {
      for (int i = 0; i < count; i++) {
        lane.low[i] = lane.low[i] == one ? other : lane.low[i];
      }
    };
  }

  /** So many more, of a narrow lane. */
  static LaneChange more(long codes) {
    return (lane, count) -> {
      for (int i = 0; i < count; i++) {
        lane.low[i] += codes;
      }
    };
  }

  /** One place to the left or to the right within a format. */
  static LaneChange shifted(Format format, boolean left) {
    LaneChange halved =
        (lane, count) -> {
          for (int i = 0; i < count; i++) {
            long high = lane.high(i);
            long low = lane.wide() ? lane.low[i] >>> 1 | high << 63 : lane.low[i] >> 1;
            lane.set(i, high >> 1, low);
          }
        };
    LaneChange within = narrowed(format.width(), format.signed());
    return (left ? doubled() : halved).then(within);
  }

  /** Twice as much, with a bit more. */
  static LaneChange doubled() {
    return (lane, count) -> {
      for (int i = 0; i < count; i++) {
        lane.set(i, lane.high(i) << 1 | lane.low[i] >>> 63, lane.low[i] << 1);
      }
    };
  }

  /** The other sign. */
  static LaneChange negated() {
    return (lane, count) -> {
      for (int i = 0; i < count; i++) {
        lane.set(i, lane.low[i] == 0 ? -lane.high(i) : ~lane.high(i), -lane.low[i]);
      }
    };
  }

  /** The other of two bits. */
  static LaneChange inverted() {
    return (lane, count) -> {
      for (int i = 0; i < count; i++) {
        lane.low[i] ^= 1;
      }
    };
  }

  /** Zeros in the highest places of a narrow lane of a signed format, by a lane of how many. */
  static LaneChange zerosFromAbove(Lane places, int width) {
    return (lane, count) -> {
      for (int i = 0; i < count; i++) {
        long by = Math.min(places.low[i], width);
        lane.low[i] = by == 0 ? lane.low[i] : lane.low[i] & ((1L << (width - by)) - 1);
      }
    };
  }

  /** A bit of the codes where an index has one value: a wrong entry of a table. */
  static LaneChange entry(Lane index, long entry, long mask) {
    return (lane, count) -> {
      for (int i = 0; i < count; i++) {
        lane.low[i] ^= index.low[i] == entry ? mask : 0;
      }
    };
  }
}
