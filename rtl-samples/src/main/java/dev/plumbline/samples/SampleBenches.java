package dev.plumbline.samples;

import dev.plumbline.cases.RayCases;
import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.models.solid.BoxSlab;
import dev.plumbline.models.solid.Budget;
import dev.plumbline.models.solid.HalfSpace;
import dev.plumbline.models.solid.Sphere;
import dev.plumbline.models.unit.Reciprocal;
import dev.plumbline.models.unit.SquareRoot;
import dev.plumbline.stimulus.Generator;
import dev.plumbline.stimulus.Share;
import dev.plumbline.stimulus.Stimulus;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.LongStream;
import java.util.stream.Stream;

/** The benches of the sample chip: every block, in each format, at each level of reference. */
public final class SampleBenches {
  /** Whole bits (sign included) and fraction bits of the formats that the samples are run in. */
  private static final List<Format> FORMATS = List.of(Format.signed(16, 16), Format.signed(18, 14));

  private static final List<String> AXES = List.of("x", "y", "z");

  private static final int MARGIN = 2;

  /** Fraction bits of the walker's working format beyond the word's: its default GUARD. */
  private static final int GUARD = 8;

  private enum Level {
    EXACT,
    BOUNDED;

    private Reference of(Datapath datapath) {
      return this == EXACT ? Reference.exact(datapath) : Reference.bounded(datapath);
    }

    @Override
    public String toString() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  private SampleBenches() {}

  /**
   * The benches of the formats that the chip is made in, and of their cousins.
   *
   * @return every bench of the regression but those in {@link OtherFormats}
   */
  public static List<SampleBench> all() {
    List<SampleBench> benches = new ArrayList<>();
    for (Format word : FORMATS) {
      for (Level level : Level.values()) {
        benches.add(reciprocal(word, level));
        benches.add(squareRoot(word, Rounding.FLOOR, level));
        benches.add(box(word, word, MARGIN, level));
        benches.add(sphere(word, level));
        benches.add(plane(word, direction(word), word, level));
      }
    }
    benches.add(squareRoot(FORMATS.get(0), Rounding.HALF_CEILING, Level.EXACT));
    benches.add(walker(FORMATS.get(0)));
    benches.add(SpanBench.exact());
    return benches;
  }

  /**
   * The bench that finds a fault of a unit: its default parameters, exact where a model of it is.
   *
   * @param unit the top module
   * @return one of {@link #all}
   */
  public static SampleBench sharpest(String unit) {
    return sharpest(unit, FORMATS.get(0));
  }

  /**
   * The same in a format of one's own.
   *
   * @param unit the top module
   * @param word a format that its header allows
   * @return the bench
   */
  public static SampleBench sharpest(String unit, Format word) {
    return switch (unit) {
      case "reciprocal" -> reciprocal(word);
      case "square_root" -> squareRoot(word, Rounding.FLOOR);
      case "box_pipeline" -> box(word, word, MARGIN);
      case "sphere_pipeline" -> sphere(word, Level.EXACT);
      case "plane_pipeline" -> plane(word, direction(word), word);
      case "sphere_walker" -> walker(word);
      case "span_combiner" -> SpanBench.exact();
      default -> throw new IllegalArgumentException("There is no sample unit \"" + unit + "\".");
    };
  }

  /**
   * A bench by its name.
   *
   * @param name as {@link #all} or {@link OtherFormats#fixed} has it
   * @return the bench
   * @throws IllegalArgumentException when there is none
   */
  public static SampleBench named(String name) {
    return Stream.concat(all().stream(), OtherFormats.fixed().stream())
        .filter(bench -> bench.name().equals(name))
        .findFirst()
        .orElseThrow(
            () -> new IllegalArgumentException("There is no sample bench \"" + name + "\"."));
  }

  static SampleBench reciprocal(Format word) {
    return reciprocal(word, Level.EXACT);
  }

  static SampleBench squareRoot(Format word, Rounding rounding) {
    return squareRoot(word, rounding, Level.EXACT);
  }

  static SampleBench box(Format word, Format inverse, int margin) {
    return box(word, inverse, margin, Level.EXACT);
  }

  static SampleBench plane(Format word, Format direction, Format slope) {
    return plane(word, direction, slope, Level.EXACT);
  }

  private static SampleBench reciprocal(Format word, Level level) {
    Contract contract =
        stream(level.of(Reciprocal.newton(word.width(), word.fractionBits()).datapath()))
            .latency(21) // header of reciprocal.sv
            .build();
    return bench("reciprocal", word.toString(), level, word(word), contract, numbers());
  }

  private static SampleBench squareRoot(Format word, Rounding rounding, Level level) {
    boolean nearest = rounding != Rounding.FLOOR;
    int resultBits = (word.width() - 1 + word.fractionBits() + 1) / 2;
    Contract contract =
        stream(level.of(SquareRoot.of(word).withRounding(rounding).datapath()))
            .latency(resultBits + 2) // header of square_root.sv
            .build();
    Map<String, String> parameters = word(word);
    parameters.put("ROUND_NEAREST", nearest ? "1" : "0");
    SampleBench floor =
        bench("square_root", word.toString(), level, parameters, contract, numbers());
    return nearest
        ? new SampleBench(
            floor.name() + " nearest", floor.unit(), floor.rtl(), contract, floor.stimulus())
        : floor;
  }

  private static SampleBench box(Format word, Format inverse, int margin, Level level) {
    Contract contract =
        stream(level.of(BoxSlab.of(word).withMargin(margin).withFaces().fromInverse(inverse)))
            .latency(8) // header of box_pipeline.sv
            .build();
    Map<String, String> parameters = word(word);
    parameters.put("INV_W", Integer.toString(inverse.width()));
    parameters.put("INV_F", Integer.toString(inverse.fractionBits()));
    parameters.put("MARGIN", Integer.toString(margin));
    Stimulus stimulus =
        Stimulus.mix(
            Share.of(3, RayCases.atBoxesByInverse(word, inverse).stimulus()),
            Share.of(1, lattice("parallel_", Generator.uniform())),
            Share.of(1, numbers()));
    String formats =
        word
            + (inverse.equals(word) ? "" : " inverse " + inverse)
            + (margin == MARGIN ? "" : " margin " + margin);
    return bench("box_pipeline", formats, level, parameters, contract, stimulus);
  }

  private static SampleBench sphere(Format word, Level level) {
    Format direction = direction(word);
    Contract contract =
        stream(level.of(Sphere.of(word, direction).datapath()))
            .latency(word.width() + 20) // header of sphere_pipeline.sv
            .build();
    Stimulus stimulus = solidCases(RayCases.atSpheres(word, direction), "direction_");
    return bench(
        "sphere_pipeline", word.toString(), level, solid(word, direction), contract, stimulus);
  }

  /**
   * Held to the words of its header alone, whatever its steps; what goes wrong is explained by the
   * steps that the header tells.
   */
  private static SampleBench walker(Format word) {
    Format direction = direction(word);
    Contract contract =
        stream(
                Reference.bounded(walked(word, direction))
                    .explainedBy(WalkerSteps.of(word, direction, GUARD)))
            .ready("in_ready", "out_ready")
            .latencyBetween(1, 83) // header of sphere_walker.sv
            .validWhen("entry", "hit", 0) // "0 where out_hit is 0"
            .validWhen("exit", "hit", 0)
            .build();
    Stimulus stimulus = solidCases(RayCases.atSpheres(word, direction), "direction_");
    return bench(
        "sphere_walker",
        word.toString(),
        Level.BOUNDED,
        solid(word, direction),
        contract,
        stimulus);
  }

  /**
   * What the header of sphere_walker.sv promises under "Equation" and "Rounding": the quadratic
   * with its leading coefficient taken as 1; a projection and a root each less than an LSB of the
   * working format low or high, the root exact where it is a code; all else exact but for the word.
   */
  private static Datapath walked(Format word, Format direction) {
    Format working = Format.signed(word.integerBits(), word.fractionBits() + GUARD);
    Sphere sphere =
        Sphere.of(word, direction)
            .withFormula(Sphere.Formula.SQUARES)
            .withRoots(Sphere.Roots.EXACT_AT_SQUARES);
    Budget promised = sphere.budget(working);
    for (String exact : List.of("offset", "squared_distance", "discriminant", "distance")) {
      promised = promised.with(exact, 0);
    }
    return sphere.budgeted(promised.with("projection", 1).with("root", 1));
  }

  private static SampleBench plane(Format word, Format direction, Format slope, Level level) {
    HalfSpace plane = HalfSpace.of(word, direction);
    if (!slope.equals(word)) {
      plane = plane.withReciprocal(Reciprocal.between(slope, slope));
    }
    Contract contract =
        stream(level.of(plane.datapath()).explainedBy(PlaneHeaderSteps.of(word, direction, slope)))
            .latency(30) // header of plane_pipeline.sv
            .build();
    Stimulus stimulus = solidCases(RayCases.atPlanes(word, direction), "direction_", "normal_");
    Map<String, String> parameters = solid(word, direction);
    parameters.put("RW", Integer.toString(slope.width()));
    parameters.put("RF", Integer.toString(slope.fractionBits()));
    String formats =
        word
            + (direction.equals(direction(word)) ? "" : " direction " + direction)
            + (slope.equals(word) ? "" : " slope " + slope);
    return bench("plane_pipeline", formats, level, parameters, contract, stimulus);
  }

  /** Aimed rays, small round numbers of which unit vectors are smaller, numbers of every size. */
  private static Stimulus solidCases(RayCases rays, String... unitVectors) {
    Stimulus lattice = Stimulus.each(lattice(4));
    for (String vector : unitVectors) {
      for (String axis : AXES) {
        lattice = lattice.with(vector + axis, lattice(2));
      }
    }
    return Stimulus.mix(
        Share.of(6, rays.stimulus()),
        Share.of(2, lattice),
        Share.of(4, numbers()),
        Share.of(1, ends()));
  }

  /** Unit vectors have two whole bits and the word's fraction bits: 18 and 16 bits in all. */
  private static Format direction(Format word) {
    return Format.signed(2, word.fractionBits());
  }

  private static Map<String, String> word(Format word) {
    Map<String, String> parameters = new LinkedHashMap<>();
    parameters.put("W", Integer.toString(word.width()));
    parameters.put("F", Integer.toString(word.fractionBits()));
    return parameters;
  }

  private static Map<String, String> solid(Format word, Format direction) {
    Map<String, String> parameters = word(word);
    parameters.put("DW", Integer.toString(direction.width()));
    parameters.put("DF", Integer.toString(direction.fractionBits()));
    return parameters;
  }

  /** Ports that all sample blocks share. */
  private static Contract.Builder stream(Reference reference) {
    return Contract.of(reference).valid("in_valid", "out_valid").reset("rst");
  }

  /** Operands all over the format: the standard draw, and small and near-corner codes besides. */
  private static Stimulus numbers() {
    return Stimulus.mix(
        Share.of(3, Stimulus.standard()),
        Share.of(1, Stimulus.each(Generator.corners())),
        Share.of(1, Stimulus.each(Generator.logarithmic())));
  }

  /** Every operand at an end of its format, where sums need all their bits. */
  private static Stimulus ends() {
    return Stimulus.each(
        (format, seed) ->
            Generator.codes(format.minCode().longValueExact(), format.maxCode().longValueExact())
                .open(format, seed));
  }

  /** Small round numbers, so that faces, edges and corners are met exactly. */
  private static Stimulus lattice(String leadOfOthers, Generator others) {
    Stimulus lattice = Stimulus.each(lattice(4));
    for (String axis : AXES) {
      lattice = lattice.with(leadOfOthers + axis, others);
    }
    return lattice;
  }

  /** Halves up to so many each way; smaller steps where a format has no room for halves. */
  private static Generator lattice(int most) {
    return (format, seed) -> {
      int step = Math.max(0, Math.min(format.fractionBits() - 1, format.width() - 5));
      long[] codes = LongStream.rangeClosed(-most, most).map(k -> k << step).toArray();
      return Generator.codes(codes).open(format, seed);
    };
  }

  private static SampleBench bench(
      String unit,
      String formats,
      Level level,
      Map<String, String> parameters,
      Contract contract,
      Stimulus stimulus) {
    return new SampleBench(
        unit + " " + formats + " " + level,
        unit,
        SampleRtl.in(SampleRtl.FOLDER, unit, parameters),
        contract,
        stimulus);
  }
}
