package dev.plumbline.judge;

import java.util.Locale;

/** How many cycles each of many things took; allocates nothing. */
public final class CycleTally {
  private long count;
  private long least = Long.MAX_VALUE;
  private long most;
  private long sum;

  /** Counts one that took so many. */
  public void add(long cycles) {
    count++;
    least = Math.min(least, cycles);
    most = Math.max(most, cycles);
    sum += cycles;
  }

  /** Counts all that another has counted. */
  public void add(CycleTally other) {
    count += other.count;
    least = Math.min(least, other.least);
    most = Math.max(most, other.most);
    sum += other.sum;
  }

  /** How many there were. */
  public long count() {
    return count;
  }

  /** Least, most and mean; empty where there were none. */
  public String words() {
    return count == 0
        ? ""
        : least == most
            ? Long.toString(least)
            : String.format(
                Locale.ROOT, "%d to %d, %.1f on average", least, most, (double) sum / count);
  }
}
