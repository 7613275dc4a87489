package dev.plumbline.samples;

import dev.plumbline.contract.Contract;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.stimulus.Stimulus;

/**
 * The span combiner alone, under resets and bubbles that no executor around it would let through.
 */
final class SpanBench {
  private static final SpanReference REFERENCE = new SpanReference(Format.signed(16, 16), 13, 4);

  private SpanBench() {}

  static SampleBench exact() {
    return new SampleBench(
        "span_combiner " + REFERENCE.word() + " exact",
        "span_combiner",
        rtl(),
        contract(),
        stimulus());
  }

  static SpanReference reference() {
    return REFERENCE;
  }

  private static RtlSource rtl() {
    return RtlSource.of(SampleRtl.FOLDER.resolve("span_combiner.sv"))
        .withTop("span_combiner")
        .withIncludeFolder(SampleRtl.FOLDER)
        .withLibraryFolder(SampleRtl.FOLDER)
        .withParameter("W", Integer.toString(REFERENCE.word().width()))
        .withParameter("SURFACE", Integer.toString(REFERENCE.surfaceBits()))
        .withParameter("C", Integer.toString(REFERENCE.spans()));
  }

  /** As the header has it; the clock of each result is {@code SpanCombinerTest}'s. */
  private static Contract contract() {
    Contract.Builder contract =
        Contract.of(REFERENCE)
            .valid("in_valid", "out_valid")
            .ready("in_ready", null)
            .reset("rst")
            .latencyBetween(1, 2 * REFERENCE.ends())
            .signsFromFormats()
            .ignoring("clocks");
    REFERENCE.inputs().forEach(input -> contract.input(input.name(), "in_" + place(input)));
    REFERENCE.outputs().stream()
        .filter(output -> !output.name().equals("clocks"))
        .forEach(output -> contract.output(output.name(), "out_" + place(output)));
    return contract.build();
  }

  /** End k of a vector is its field k. */
  private static String place(Operand operand) {
    int split = operand.name().lastIndexOf('_');
    String field = operand.name().substring(split + 1);
    if (split < 0 || !Character.isDigit(field.charAt(0))) {
      return operand.name();
    }
    int width = operand.format().width();
    int low = Integer.parseInt(field) * width;
    String bits = width == 1 ? "" + low : (low + width - 1) + ":" + low;
    return operand.name().substring(0, split) + "[" + bits + "]";
  }

  /**
   * Lists in ascending order, on a lattice so narrow that many ends of both meet, and anywhere; at
   * times from for ever and for ever. SurfaceNumber, reversed and all beyond the count are any.
   */
  static Stimulus stimulus() {
    return Stimulus.drawn(SpanBench::draw);
  }

  private static void draw(RandomStream chance, long[] words) {
    for (int i = 0; i < words.length; i++) {
      words[i] = chance.next();
    }
    int ofList = 1 + 3 * REFERENCE.ends();
    int narrow = chance.below(4);
    int shift = narrow == 0 ? REFERENCE.word().width() - 6 : chance.below(20);
    for (int first = 1; first < words.length; first += ofList) {
      int spans = chance.below(REFERENCE.spans() + 1);
      words[first] = spans;
      long at = -chance.below(12);
      for (int end = 0; end < 2 * spans; end++) {
        at += 1 + chance.below(3);
        long off = narrow == 1 ? chance.below(1 << shift) : 0;
        words[first + 1 + 3 * end] = (at << shift) + off;
      }
      if (spans > 0 && chance.below(8) == 0) {
        words[first + 1] = REFERENCE.word().minCode().longValueExact();
      }
      if (spans > 0 && chance.below(8) == 0) {
        words[first + 1 + 3 * (2 * spans - 1)] = REFERENCE.word().maxCode().longValueExact();
      }
    }
  }
}
