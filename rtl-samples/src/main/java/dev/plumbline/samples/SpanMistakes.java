package dev.plumbline.samples;

import dev.plumbline.contract.Reference;
import dev.plumbline.contract.Suspect;
import dev.plumbline.models.datapath.Variation.Kind;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Function;

/**
 * What hardware that combines two lists of spans may do instead of what {@link SpanReference} says:
 * each rule by itself as it is often mistaken. Common practice, no source. Nothing rests on it but
 * what is said of a combiner that is wrong.
 */
final class SpanMistakes {
  private static final int UNION = 0;
  private static final int INTERSECTION = 1;
  private static final int DIFFERENCE = 2;
  private static final List<String> OPERATORS =
      List.of("a union", "an intersection", "a difference");

  /** What is in the result: by whether it is in the right list (1), the left (2) or both (3). */
  private static final String[] GATES = {
    "nothing",
    "what is in the right list alone",
    "what is in the left list alone",
    "what is in one of both alone",
    "what is in both",
    "the right list",
    "the left list",
    "what is in either list"
  };

  private final SpanReference plain;

  /** What happens where both lists have an end. */
  private enum Tie {
    /** Equal ends act together, with the left one's surface. */
    LEFT,
    /** Equal ends act together, with the right one's surface. */
    RIGHT,
    /** The left one acts first. */
    LEFT_FIRST,
    /** The right one acts first. */
    RIGHT_FIRST
  }

  /** After which end the walk is over. */
  private enum Last {
    OF_BOTH,
    OF_EITHER,
    OF_LEFT,
    OF_RIGHT
  }

  /**
   * The rules.
   *
   * @param gates by operator, which of {@link #GATES} the result is
   * @param tie what happens where both lists have an end
   * @param reverses by operator, whether what comes from the right is reversed
   * @param ofLeft whether what comes from the left is, and not that from the right
   * @param toggles whether what is reversed twice is as before
   * @param signed whether distances are compared as signed
   * @param last after which end the walk is over
   * @param fewer spans that the list holds less
   */
  private record Rules(
      List<Integer> gates,
      Tie tie,
      List<Boolean> reverses,
      boolean ofLeft,
      boolean toggles,
      boolean signed,
      Last last,
      int fewer) {
    static final Rules PLAIN =
        new Rules(
            List.of(7, 4, 2),
            Tie.LEFT,
            List.of(false, false, true),
            false,
            true,
            true,
            Last.OF_BOTH,
            0);

    Rules gate(int operator, int gate) {
      List<Integer> others = new ArrayList<>(gates);
      others.set(operator, gate);
      return new Rules(others, tie, reverses, ofLeft, toggles, signed, last, fewer);
    }

    Rules tie(Tie other) {
      return new Rules(gates, other, reverses, ofLeft, toggles, signed, last, fewer);
    }

    Rules reverses(int operator) {
      List<Boolean> others = new ArrayList<>(reverses);
      others.set(operator, !others.get(operator));
      return new Rules(gates, tie, others, ofLeft, toggles, signed, last, fewer);
    }

    Rules last(Last other) {
      return new Rules(gates, tie, reverses, ofLeft, toggles, signed, other, fewer);
    }
  }

  private SpanMistakes(SpanReference plain) {
    this.plain = plain;
  }

  /** Every mistake, the likeliest first. */
  static List<Suspect> of(SpanReference plain) {
    return new SpanMistakes(plain).all();
  }

  /** What these rules give where none is mistaken: the reference itself, for tests. */
  static Reference none(SpanReference plain) {
    return new SpanMistakes(plain).by(Rules.PLAIN);
  }

  private List<Suspect> all() {
    Rules r = Rules.PLAIN;
    List<Suspect> all = new ArrayList<>();
    add(all, Kind.EXCHANGED, "a difference takes the left list from the right one", r.gate(2, 1));
    for (int operator = UNION; operator <= DIFFERENCE; operator++) {
      for (int gate = 0; gate < GATES.length; gate++) {
        boolean isExchanged = operator == DIFFERENCE && gate == 1;
        if (gate != r.gates().get(operator) && !isExchanged) {
          String words = OPERATORS.get(operator) + " gives " + GATES[gate];
          add(all, Kind.DECISION, words, r.gate(operator, gate));
        }
      }
    }
    add(
        all,
        Kind.EXCHANGED,
        "where both lists have an end the surface is the right one's",
        r.tie(Tie.RIGHT));
    add(all, Kind.DECISION, "of equal ends the left one acts first", r.tie(Tie.LEFT_FIRST));
    add(all, Kind.DECISION, "of equal ends the right one acts first", r.tie(Tie.RIGHT_FIRST));
    add(all, Kind.DECISION, "a difference does not reverse surfaces", r.reverses(DIFFERENCE));
    add(all, Kind.DECISION, "an intersection reverses surfaces too", r.reverses(INTERSECTION));
    add(all, Kind.DECISION, "a union reverses surfaces too", r.reverses(UNION));
    add(
        all,
        Kind.EXCHANGED,
        "a difference reverses the left list's surfaces",
        new Rules(r.gates, r.tie, r.reverses, true, true, true, r.last, 0));
    add(
        all,
        Kind.DECISION,
        "what is reversed once stays so",
        new Rules(r.gates, r.tie, r.reverses, false, false, true, r.last, 0));
    add(
        all,
        Kind.SIGN,
        "distances are compared without their signs",
        new Rules(r.gates, r.tie, r.reverses, false, true, false, r.last, 0));
    add(all, Kind.DECISION, "the walk ends with the first list that does", r.last(Last.OF_EITHER));
    add(all, Kind.DECISION, "the walk ends with the left list", r.last(Last.OF_LEFT));
    add(all, Kind.DECISION, "the walk ends with the right list", r.last(Last.OF_RIGHT));
    add(
        all,
        Kind.DECISION,
        "a list counts as full where there is room for one more span",
        new Rules(r.gates, r.tie, r.reverses, false, true, true, r.last, 1));
    return all;
  }

  private void add(List<Suspect> to, Kind kind, String words, Rules rules) {
    to.add(new Suspect(kind, words, by(rules)));
  }

  private Reference by(Rules rules) {
    Function<long[], Walk> walks = words -> new Walk(rules, words);
    return Reference.of(
        plain.name(), plain.inputs(), plain.outputs(), (in, out) -> walks.apply(in).store(out));
  }

  /** One case: its operands in their order, as {@link SpanReference} has them. */
  private final class Walk {
    private static final int OF_END = 3;

    private final Rules rules;
    private final long[] in;
    private final int operator;
    private final int left; // where the left list begins
    private final int right;
    private final List<long[]> made = new ArrayList<>(); // distance, surface, reversed
    private boolean overflow;
    private int clocks;

    Walk(Rules rules, long[] in) {
      this.rules = rules;
      this.in = in;
      this.operator = (int) Math.min(in[0], DIFFERENCE);
      this.left = 1;
      this.right = 2 + OF_END * plain.ends();
      walk();
    }

    private void walk() {
      int ofLeft = (int) Math.min(2 * in[left], plain.ends());
      int ofRight = (int) Math.min(2 * in[right], plain.ends());
      int i = 0;
      int j = 0;
      boolean isOver = ofLeft + ofRight == 0;
      while (!isOver) {
        int order = i == ofLeft ? 1 : j == ofRight ? -1 : compare(at(left, i), at(right, j));
        boolean takesLeft = order < 0 || (order == 0 && rules.tie() != Tie.RIGHT_FIRST);
        boolean takesRight = order > 0 || (order == 0 && rules.tie() != Tie.LEFT_FIRST);
        boolean before = inside(i, j);
        boolean ofTheLeft = takesLeft && !(takesRight && rules.tie() == Tie.RIGHT);
        int end = ofTheLeft ? left + 1 + OF_END * i : right + 1 + OF_END * j;
        i += takesLeft ? 1 : 0;
        j += takesRight ? 1 : 0;
        clocks++;
        if (inside(i, j) != before) {
          add(end, ofTheLeft);
        }
        boolean noLeft = i == ofLeft;
        boolean noRight = j == ofRight;
        isOver =
            (noLeft && noRight)
                || switch (rules.last()) {
                  case OF_BOTH -> false;
                  case OF_EITHER -> noLeft || noRight;
                  case OF_LEFT -> noLeft;
                  case OF_RIGHT -> noRight;
                };
      }
    }

    private long at(int list, int end) {
      return in[list + 1 + OF_END * end];
    }

    private int compare(long one, long other) {
      return rules.signed() ? Long.compare(one, other) : Long.compareUnsigned(one, other);
    }

    private boolean inside(int i, int j) {
      boolean inLeft = (i & 1) == 1;
      boolean inRight = (j & 1) == 1;
      int gate = rules.gates().get(operator);
      return switch (gate) {
        case 0 -> false;
        case 1 -> inRight && !inLeft;
        case 2 -> inLeft && !inRight;
        case 3 -> inLeft != inRight;
        case 4 -> inLeft && inRight;
        case 5 -> inRight;
        case 6 -> inLeft;
        default -> inLeft || inRight;
      };
    }

    private void add(int end, boolean ofTheLeft) {
      if (made.size() >= plain.ends() - 2 * rules.fewer()) {
        overflow = true;
        return;
      }
      boolean turns = rules.reverses().get(operator) && ofTheLeft == rules.ofLeft();
      boolean was = in[end + 2] != 0;
      boolean is = rules.toggles() ? was != turns : was || turns;
      made.add(new long[] {in[end], in[end + 1], is ? 1 : 0});
    }

    void store(long[] out) {
      out[0] = made.size() / 2;
      for (int end = 0; end < made.size(); end++) {
        System.arraycopy(made.get(end), 0, out, 1 + OF_END * end, OF_END);
      }
      out[out.length - 2] = overflow ? 1 : 0;
      out[out.length - 1] = Math.max(1, clocks);
    }
  }
}
