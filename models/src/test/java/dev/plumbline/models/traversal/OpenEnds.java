package dev.plumbline.models.traversal;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.span.Distances;
import dev.plumbline.models.span.SpanOperator;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;

/**
 * A random program whose ends are known within intervals, and what the exact traversal finds for
 * choices of ends.
 *
 * <p>Ends of intervals are multiples of {@link #GRID}, choices any number, so that as many ends fit
 * between two of them as would fit in the reals. The highest distance of all is one too.
 */
final class OpenEnds {
  static final long GRID = 7;
  static final SceneFormats FORMATS = SceneFormats.of(Format.signed(7, 0), Format.signed(2, 6));
  static final Distances CODES = Distances.codes(FORMATS.word());
  static final ProgramLimits LIMITS = new ProgramLimits(256, 64, 256);

  private static final List<SpanOperator> OPERATORS = List.of(SpanOperator.values());

  private final Random random;
  private final boolean passes; // whether skips may go over boxes that are met
  private final Traversal traversal;
  final Program program;
  final Rays rays = Rays.of(FORMATS, 1);
  final EndColumns low = new EndColumns();
  final EndColumns high = new EndColumns();

  /** Distances at which a surface was seen, by its number. */
  final Map<Integer, BitSet> seen = new TreeMap<>();

  boolean missed;
  final Set<Integer> taken = new TreeSet<>();
  final Set<Integer> passed = new TreeSet<>();
  private final EndColumns chosen = new EndColumns();
  private int count;

  /** With so many solids, and intervals of so many steps of the grid at most. */
  OpenEnds(Random random, RayRules rules, Traversal traversal, int solids, int widest) {
    this.passes = rules.passesOver();
    this.random = random;
    this.traversal = traversal;
    this.program = program(solids);
    int length = program.length();
    low.makeRoom(length);
    high.makeRoom(length);
    chosen.makeRoom(length);
    for (int address = 0; address < length; address++) {
      draw(address, widest);
    }
    boolean behind = rules.clipsAtStart() && random.nextInt(8) == 0;
    rays.column("start")[0] = behind ? -GRID : GRID * random.nextInt(3);
    rays.column("limit")[0] = random.nextInt(8) == 0 ? GRID * random.nextInt(9) : CODES.highest();
    if (random.nextInt(3) == 0) {
      rays.anyHit(0, GRID * random.nextInt(9));
    }
    traversal.prepare(program);
  }

  private Program program(int solids) {
    Program.Builder b = Program.builder(FORMATS, LIMITS);
    List<Program.Label> labels = new ArrayList<>();
    int left = solids;
    while (left > 0) {
      if (random.nextInt(3) == 0) {
        Program.Label label = b.label();
        labels.add(label);
        b.skip(label, 0, 0, 0, 1, 1, 1);
      }
      int here = 1 + random.nextInt(left);
      b.begin();
      object(b, here);
      b.close();
      left -= here;
      if (!labels.isEmpty() && random.nextInt(3) > 0) {
        b.place(labels.remove(random.nextInt(labels.size())));
      }
    }
    labels.forEach(b::place);
    return b.end().build();
  }

  private void object(Program.Builder b, int solids) {
    if (solids == 1) {
      int material = b.address();
      if (random.nextInt(3) == 0) {
        b.sphere(material, 0, 0, 0, 1);
      } else {
        b.box(material, 0, 0, 0, 1, 1, 1);
      }
      return;
    }
    int left = 1 + random.nextInt(solids - 1);
    object(b, left);
    object(b, solids - left);
    b.combine(OPERATORS.get(random.nextInt(3)));
  }

  private void draw(int address, int widest) {
    boolean isPassed = passes || program.at(address).kind() != OperationKind.SKIP;
    int entry = random.nextInt(6) - 1;
    int exit = entry + random.nextInt(5) - 1;
    low.entry[address] = GRID * entry;
    high.entry[address] = GRID * (entry + random.nextInt(widest + 1));
    low.exit[address] = GRID * exit;
    high.exit[address] = GRID * (exit + random.nextInt(widest + 1));
    if (random.nextInt(10) == 0) {
      low.entry[address] = high.entry[address] = CODES.lowest();
    }
    if (random.nextInt(10) == 0) {
      high.exit[address] = CODES.highest();
      low.exit[address] = CODES.highest() - GRID * random.nextInt(widest + 1);
    }
    for (EndColumns ends : List.of(low, high)) {
      ends.exit[address] = Math.min(ends.exit[address], CODES.highest());
    }
    if (!isPassed) {
      low.entry[address] = high.entry[address] = CODES.lowest();
    }
    int decided = random.nextInt(4);
    low.hit[address] = decided > 1;
    high.hit[address] = decided > 0;
  }

  /** The number of what a hit has besides its distance; {@link #admits} takes it apart. */
  static int surface(int material, boolean reversed, boolean inward) {
    return 4 * material + (reversed ? 2 : 0) + (inward ? 1 : 0);
  }

  static boolean admits(AdmissibleHits hits, int surface, long distance) {
    return hits.admits(distance, surface / 4, (surface & 2) != 0, (surface & 1) != 0);
  }

  /** Follows every choice; how many there are. */
  int everyChoice() {
    count = 0;
    choose(0);
    return count;
  }

  /** How many choices there are; decisions count double where they are open. */
  double choices() {
    double all = 1;
    for (int address = 0; address < program.length(); address++) {
      OperationKind kind = program.at(address).kind();
      if (kind.isSolid()) {
        all *= high.entry[address] - low.entry[address] + 1;
        all *= high.exit[address] - low.exit[address] + 1;
      }
      boolean open = low.hit[address] != high.hit[address];
      all *= open && (kind == OperationKind.SPHERE || kind == OperationKind.SKIP) ? 2 : 1;
    }
    return all;
  }

  private void choose(int address) {
    if (address == program.length()) {
      follow();
      return;
    }
    OperationKind kind = program.at(address).kind();
    if (kind == OperationKind.SKIP) {
      chosen.entry[address] = low.entry[address];
      for (int hit = low.hit[address] ? 1 : 0; hit <= (high.hit[address] ? 1 : 0); hit++) {
        chosen.hit[address] = hit == 1;
        choose(address + 1);
      }
    } else if (kind.isSolid()) {
      for (long entry = low.entry[address]; entry <= high.entry[address]; entry++) {
        for (long exit = low.exit[address]; exit <= high.exit[address]; exit++) {
          if (kind != OperationKind.SPHERE || high.hit[address]) {
            chosen.entry[address] = entry;
            chosen.exit[address] = exit;
            choose(address + 1);
          }
        }
      }
      if (kind == OperationKind.SPHERE && !low.hit[address]) {
        chosen.entry[address] = 1;
        chosen.exit[address] = 0;
        choose(address + 1);
      }
    } else {
      choose(address + 1);
    }
  }

  /** Follows one choice by chance; ends of intervals, and ends of others, are likely. */
  void anyChoice() {
    for (int address = 0; address < program.length(); address++) {
      chosen.hit[address] =
          low.hit[address] == high.hit[address] ? low.hit[address] : random.nextBoolean();
      chosen.entry[address] = within(low.entry[address], high.entry[address]);
      chosen.exit[address] = within(low.exit[address], high.exit[address]);
      if (program.at(address).kind() == OperationKind.SPHERE && !chosen.hit[address]) {
        chosen.exit[address] = chosen.entry[address];
      }
    }
    follow();
  }

  private long within(long least, long greatest) {
    return switch (random.nextInt(4)) {
      case 0 -> least;
      case 1 -> greatest;
      default -> least + random.nextInt((int) (greatest - least + 1));
    };
  }

  private void follow() {
    count++;
    traversal.walk(program, rays, 0, chosen, 0, null, this::note);
  }

  private void note(Retirement r) {
    if (r.operation().kind() == OperationKind.SKIP) {
      (r.isSkipTaken() ? taken : passed).add(r.address());
    }
    if (r.isLast() && r.isFound()) {
      int surface = surface(r.material(), r.isReversed(), r.isInward());
      seen.computeIfAbsent(surface, s -> new BitSet()).set((int) r.distance());
    }
    missed |= r.isLast() && !r.isFound();
  }

  /** The intervals, to be read when a test fails. */
  @Override
  public String toString() {
    StringBuilder text = new StringBuilder(program.toString()).append('\n');
    for (int a = 0; a < program.length(); a++) {
      text.append(a)
          .append(": ")
          .append(low.entry[a] + ".." + high.entry[a])
          .append(" to ")
          .append(low.exit[a] + ".." + high.exit[a])
          .append(low.hit[a] ? " hit" : high.hit[a] ? " open" : " missed")
          .append('\n');
    }
    return text.append("start " + rays.column("start")[0])
        .append(", any " + rays.column("any_hit")[0] + " before " + rays.column("limit")[0])
        .append("\nseen " + seen + (missed ? " or a miss" : ""))
        .toString();
  }
}
