package dev.plumbline.models.datapath;

import java.util.List;

/** How a decision comes to depend on another that it should not depend on. */
enum Gate {
  AND("and %s"),
  AND_NOT("and not %s"),
  OR("or %s"),
  OR_NOT("or not %s");

  static final List<Gate> ALL = List.of(values());

  private final String words;

  Gate(String words) {
    this.words = words;
  }

  String words(String flag) {
    return words.replace("%s", flag);
  }

  /** What it makes of a lane of bits. */
  LaneChange with(Lane flag) {
    return (lane, count) -> {
      for (int i = 0; i < count; i++) {
        long other = flag.low[i];
        lane.low[i] =
            switch (this) {
              case AND -> lane.low[i] & other;
              case AND_NOT -> lane.low[i] & (other ^ 1);
              case OR -> lane.low[i] | other;
              case OR_NOT -> lane.low[i] | (other ^ 1);
            };
      }
    };
  }
}
