package dev.plumbline.models.solid;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;

/**
 * A box unit of another build, drawn at random and then the same for every case: its circuit, how
 * it tells the nearer face, what it makes of crossed faces and parallel axes, whether distances
 * saturate before they are compared. It shares nothing with the model; it may have a fault.
 */
final class SlabHardware {
  /** What is wrong with it. */
  enum Fault {
    NONE,
    /** The x axis takes the y axis's part of the ray. */
    SWAPPED_AXIS,
    /** A box without thickness is no box. */
    NEVER_HITS_A_FLAT_BOX,
    /** {@code entry < exit}. */
    NEEDS_A_PART_OF_SOME_LENGTH,
    /** {@code exit > 0}. */
    MISSES_WHAT_ENDS_AT_THE_ORIGIN,
    /** The nearer face is always the minimum. */
    IGNORES_THE_SIGN,
    /** Distances are three LSB too large. */
    THREE_LSBS_OFF
  }

  private final SlabFormats formats;
  private final int margin;
  private final BoxSlab.OnFace onFace;
  private final boolean solid;
  private final Fault fault;
  private final SlabCircuit circuit;
  private final boolean bySign;
  private final boolean comparesSaturated;
  private final boolean ordersParallelFaces;
  private final boolean lastOfTies;

  /** A solid box, or else one that culls with a margin. */
  SlabHardware(
      SlabFormats formats,
      boolean solid,
      int margin,
      BoxSlab.OnFace onFace,
      Fault fault,
      Random random) {
    this.formats = formats;
    this.solid = solid;
    this.margin = margin;
    this.onFace = onFace;
    this.fault = fault;
    this.bySign = random.nextBoolean();
    this.circuit = circuit(formats, random);
    this.comparesSaturated = random.nextBoolean();
    this.ordersParallelFaces = !solid && random.nextBoolean();
    this.lastOfTies = random.nextBoolean();
  }

  private SlabHardware(
      SlabFormats formats, boolean solid, int margin, BoxSlab.OnFace onFace, SlabCircuit circuit) {
    this.formats = formats;
    this.solid = solid;
    this.margin = margin;
    this.onFace = onFace;
    this.fault = Fault.NONE;
    this.bySign = true;
    this.circuit = circuit;
    this.comparesSaturated = false;
    this.ordersParallelFaces = false;
    this.lastOfTies = false;
  }

  /** One of each circuit with each of its roundings down or up. */
  static List<SlabHardware> outermost(
      SlabFormats formats, boolean solid, int margin, BoxSlab.OnFace onFace) {
    return SlabCircuit.outermost(formats).stream()
        .map(circuit -> new SlabHardware(formats, solid, margin, onFace, circuit))
        .toList();
  }

  private SlabCircuit circuit(SlabFormats formats, Random random) {
    SlabCircuit.Cut first = SlabCircuit.Cut.any(random);
    SlabCircuit.Cut second = SlabCircuit.Cut.any(random);
    SlabCircuit.Inverse inverse = inverse(formats, random);
    return switch (random.nextInt(formats.inverses() ? 4 : 5)) {
      case 0 -> new SlabCircuit.OneProduct(inverse, first, first);
      case 1 ->
          bySign // only then is it known before which of the two is the farther one
              ? new SlabCircuit.OneProduct(inverse, SlabCircuit.Cut.FLOOR, SlabCircuit.Cut.CEILING)
              : new SlabCircuit.OneProduct(inverse, first, first);
      case 2 -> new SlabCircuit.TwoProducts(inverse, first, second);
      case 3 -> new SlabCircuit.MultiplyAdd(inverse, first, second);
      default -> new SlabCircuit.Division(formats.ray().fractionBits(), first);
    };
  }

  private static SlabCircuit.Inverse inverse(SlabFormats formats, Random random) {
    if (formats.inverses()) {
      return new SlabCircuit.Given(formats.ray().fractionBits());
    }
    int guard = random.nextInt(3) == 0 ? 0 : random.nextInt(9);
    return new SlabCircuit.Computed(
        formats.ray().fractionBits(),
        formats.word().fractionBits() + guard,
        SlabCircuit.Cut.anyNeighbour(random),
        random.nextBoolean() ? formats.inverse().integerBits() : 0,
        random.nextInt(4) == 0);
  }

  /** The results of a case; what means nothing in it is left out. */
  Map<String, Long> run(long[][] columns, int i) {
    BigInteger near = null;
    BigInteger far = null;
    long nearFace = 6;
    long farFace = 6;
    boolean missed = false;
    boolean inside = true;
    for (int axis = 0; axis < 3; axis++) {
      long origin = columns[axis][i];
      long given = columns[3 + (fault == Fault.SWAPPED_AXIS && axis == 0 ? 1 : axis)][i];
      long min = columns[formats.faces() + axis][i];
      long max = columns[formats.faces() + 3 + axis][i];
      missed |= fault == Fault.NEVER_HITS_A_FLAT_BOX && min == max;
      inside &= min <= origin && origin <= max;
      if (formats.inverses() ? columns[6 + axis][i] == 1 : given == 0) {
        boolean between = between(min, origin, max);
        missed |= !(between || (ordersParallelFaces && between(max, origin, min)));
        continue;
      }
      boolean back = given < 0 && fault != Fault.IGNORES_THE_SIGN;
      BigInteger in = distance(back ? max : min, origin, given, false);
      BigInteger out = distance(back ? min : max, origin, given, true);
      if (solid && !bySign) {
        missed |= min > max;
      } else if (!bySign && in.compareTo(out) > 0) {
        BigInteger other = in;
        in = out;
        out = other;
      }
      int order = near == null ? 1 : in.compareTo(near);
      if (order > 0 || (order == 0 && lastOfTies)) {
        near = in;
        nearFace = 2L * axis + (back ? 1 : 0);
      }
      order = far == null ? -1 : out.compareTo(far);
      if (order < 0 || (order == 0 && lastOfTies)) {
        far = out;
        farFace = 2L * axis + (back ? 0 : 1);
      }
    }
    Map<String, Long> results = new LinkedHashMap<>();
    boolean hit = !missed && (near == null || isHit(near, far));
    results.put("hit", hit ? 1L : 0);
    if (solid) {
      results.put("inside", inside ? 1L : 0);
    }
    if (hit) {
      Format word = formats.word();
      results.put("entry", near == null ? word.minCode().longValueExact() : saturated(near));
      results.put("exit", far == null ? word.maxCode().longValueExact() : saturated(far));
      // What stands for parallel axes may win over a distance beyond the word.
      if (solid && near != null && near.compareTo(word.minCode()) > 0) {
        results.put("entry_face", nearFace);
      }
      if (solid && far != null && far.compareTo(word.maxCode()) < 0) {
        results.put("exit_face", farFace);
      }
    }
    return results;
  }

  private BigInteger distance(long face, long origin, long given, boolean far) {
    BigInteger distance =
        circuit.distance(
            BigInteger.valueOf(face), BigInteger.valueOf(origin), BigInteger.valueOf(given), far);
    if (fault == Fault.THREE_LSBS_OFF) {
      distance = distance.add(BigInteger.valueOf(3));
    }
    return comparesSaturated ? BigInteger.valueOf(saturated(distance)) : distance;
  }

  private boolean isHit(BigInteger near, BigInteger far) {
    BigInteger reach = far.add(BigInteger.valueOf(margin));
    int length = reach.compareTo(near);
    boolean inOrder = fault == Fault.NEEDS_A_PART_OF_SOME_LENGTH ? length > 0 : length >= 0;
    return inOrder && reach.signum() >= (fault == Fault.MISSES_WHAT_ENDS_AT_THE_ORIGIN ? 1 : 0);
  }

  private boolean between(long min, long origin, long max) {
    return onFace == BoxSlab.OnFace.INSIDE
        ? min <= origin && origin <= max
        : min < origin && origin < max;
  }

  private long saturated(BigInteger distance) {
    return distance.max(formats.word().minCode()).min(formats.word().maxCode()).longValueExact();
  }

  @Override
  public String toString() {
    return (solid ? "solid, " : "margin " + margin + ", " + onFace + ", ")
        + circuit
        + (bySign ? ", by sign" : ", by comparison")
        + (comparesSaturated ? ", compares saturated" : "")
        + (ordersParallelFaces ? ", orders parallel faces" : "")
        + (lastOfTies ? ", last of ties" : "")
        + (fault == Fault.NONE ? "" : ", " + fault);
  }
}
