package dev.plumbline.samples;

import dev.plumbline.cases.RayCases;
import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.models.solid.BoxSlab;
import dev.plumbline.models.solid.HalfSpace;
import dev.plumbline.models.solid.Sphere;
import dev.plumbline.models.unit.Reciprocal;
import dev.plumbline.models.unit.SquareRoot;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.stimulus.Generator;
import dev.plumbline.stimulus.Share;
import dev.plumbline.stimulus.Stimulus;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** The benches of the sample chip: every block, in each format, at each level of reference. */
final class SampleBenches {
  /** Whole bits (sign included) and fraction bits of the formats that the samples are run in. */
  private static final List<Format> FORMATS = List.of(Format.signed(16, 16), Format.signed(18, 14));

  private static final List<String> AXES = List.of("x", "y", "z");

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

  /** Every bench of the regression. */
  static List<SampleBench> all() {
    List<SampleBench> benches = new ArrayList<>();
    for (Format word : FORMATS) {
      for (Level level : Level.values()) {
        benches.add(reciprocal(word, level));
        benches.add(squareRoot(word, Rounding.FLOOR, level));
        benches.add(box(word, level));
        benches.add(sphere(word, level));
        benches.add(plane(word, level));
      }
    }
    benches.add(squareRoot(FORMATS.get(0), Rounding.HALF_CEILING, Level.EXACT));
    benches.add(walker(FORMATS.get(0)));
    benches.add(SpanBench.exact());
    return benches;
  }

  /**
   * The bench that finds a fault of a unit: its default parameters, exact where a model of it is.
   */
  static SampleBench sharpest(String unit) {
    return sharpest(unit, FORMATS.get(0));
  }

  /** The same in a format of one's own. */
  static SampleBench sharpest(String unit, Format word) {
    return switch (unit) {
      case "reciprocal" -> reciprocal(word, Level.EXACT);
      case "square_root" -> squareRoot(word, Rounding.FLOOR, Level.EXACT);
      case "box_pipeline" -> box(word, Level.EXACT);
      case "sphere_pipeline" -> sphere(word, Level.EXACT);
      case "plane_pipeline" -> plane(word, Level.EXACT);
      case "sphere_walker" -> walker(word);
      case "span_combiner" -> SpanBench.exact();
      default -> throw new IllegalArgumentException("There is no sample unit \"" + unit + "\".");
    };
  }

  private static SampleBench reciprocal(Format word, Level level) {
    Contract contract =
        stream(level.of(Reciprocal.newton(word.width(), word.fractionBits()).datapath()))
            .latency(20) // header of reciprocal.sv
            .build();
    return bench("reciprocal", word, level, rtl("reciprocal", word), contract, numbers());
  }

  private static SampleBench squareRoot(Format word, Rounding rounding, Level level) {
    boolean nearest = rounding != Rounding.FLOOR;
    int resultBits = (word.width() - 1 + word.fractionBits() + 1) / 2;
    Contract contract =
        stream(level.of(SquareRoot.of(word).withRounding(rounding).datapath()))
            .latency(resultBits + 2) // header of square_root.sv
            .build();
    RtlSource rtl = rtl("square_root", word).withParameter("ROUND_NEAREST", nearest ? "1" : "0");
    SampleBench floor = bench("square_root", word, level, rtl, contract, numbers());
    return nearest
        ? new SampleBench(
            floor.name() + " nearest", floor.unit(), rtl, floor.contract(), floor.stimulus())
        : floor;
  }

  private static SampleBench box(Format word, Level level) {
    Contract contract =
        stream(level.of(BoxSlab.of(word).withMargin(2).fromInverse(word)))
            .latency(8) // header of box_pipeline.sv
            .build();
    RtlSource rtl =
        rtl("box_pipeline", word)
            .withParameter("INV_W", Integer.toString(word.width()))
            .withParameter("INV_F", Integer.toString(word.fractionBits()))
            .withParameter("MARGIN", "2");
    Stimulus stimulus =
        Stimulus.mix(
            Share.of(3, RayCases.atBoxesByInverse(word, word).stimulus()),
            Share.of(1, lattice("parallel_", Generator.uniform())),
            Share.of(1, numbers()));
    return bench("box_pipeline", word, level, rtl, contract, stimulus);
  }

  private static SampleBench sphere(Format word, Level level) {
    Format direction = direction(word);
    Contract contract =
        stream(level.of(Sphere.of(word, direction).datapath()))
            .latency(word.width() + 20) // header of sphere_pipeline.sv
            .build();
    Stimulus stimulus =
        Stimulus.mix(
            Share.of(6, RayCases.atSpheres(word, direction).stimulus()),
            Share.of(2, lattice("direction_", Generator.lattice(-1, 1, 0.5))),
            Share.of(4, numbers()),
            Share.of(1, ends()));
    return bench(
        "sphere_pipeline", word, level, solid("sphere_pipeline", word), contract, stimulus);
  }

  /** Hardware of unknown insides: there is no model of its steps, and none of its rounding. */
  private static SampleBench walker(Format word) {
    Format direction = direction(word);
    Contract contract =
        stream(Reference.bounded(Sphere.of(word, direction).budgeted()))
            .ready("in_ready", "out_ready")
            .latencyBetween(1, 83) // header of sphere_walker.sv
            .validWhen("entry", "hit")
            .validWhen("exit", "hit")
            .build();
    Stimulus stimulus = RayCases.atSpheres(word, direction).stimulus();
    return bench(
        "sphere_walker", word, Level.BOUNDED, solid("sphere_walker", word), contract, stimulus);
  }

  private static SampleBench plane(Format word, Level level) {
    Format direction = direction(word);
    Contract contract =
        stream(level.of(HalfSpace.of(word, direction).datapath()))
            .latency(29) // header of plane_pipeline.sv
            .build();
    Generator small = Generator.lattice(-1, 1, 0.5);
    Stimulus lattice = lattice("direction_", small);
    for (String axis : AXES) {
      lattice = lattice.with("normal_" + axis, small);
    }
    Stimulus stimulus =
        Stimulus.mix(
            Share.of(6, RayCases.atPlanes(word, direction).stimulus()),
            Share.of(2, lattice),
            Share.of(4, numbers()),
            Share.of(1, ends()));
    return bench("plane_pipeline", word, level, solid("plane_pipeline", word), contract, stimulus);
  }

  /** Unit vectors have two whole bits and the word's fraction bits: 18 and 16 bits in all. */
  private static Format direction(Format word) {
    return Format.signed(2, word.fractionBits());
  }

  private static RtlSource solid(String unit, Format word) {
    return rtl(unit, word)
        .withParameter("DW", Integer.toString(direction(word).width()))
        .withParameter("DF", Integer.toString(direction(word).fractionBits()));
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
    Stimulus lattice = Stimulus.each(Generator.lattice(-2, 2, 0.5));
    for (String axis : AXES) {
      lattice = lattice.with(leadOfOthers + axis, others);
    }
    return lattice;
  }

  private static RtlSource rtl(String unit, Format word) {
    return RtlSource.of(SampleRtl.FOLDER.resolve(unit + ".sv"))
        .withTop(unit)
        .withIncludeFolder(SampleRtl.FOLDER)
        .withLibraryFolder(SampleRtl.FOLDER)
        .withParameter("W", Integer.toString(word.width()))
        .withParameter("F", Integer.toString(word.fractionBits()));
  }

  private static SampleBench bench(
      String unit, Format word, Level level, RtlSource rtl, Contract contract, Stimulus stimulus) {
    return new SampleBench(unit + " " + word + " " + level, unit, rtl, contract, stimulus);
  }
}
