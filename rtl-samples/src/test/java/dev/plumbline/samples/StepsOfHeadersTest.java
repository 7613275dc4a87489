package dev.plumbline.samples;

import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.models.datapath.BitEvaluation;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.stimulus.Generator;
import dev.plumbline.stimulus.RandomStream;
import java.util.List;
import org.junit.jupiter.api.Test;

/**
 * Steps by which faults are explained have to be the hardware's. What decides is the contract of
 * each bench, which none of them is part of.
 */
class StepsOfHeadersTest {
  private static final Format WORD = Format.signed(16, 16);

  private static Datapath steps(SampleBench bench) {
    return bench.contract().reference().exactSteps().orElseThrow();
  }

  /** The walker, right by its bounds, gives every bit of the steps that explain it. */
  @Test
  void theWalkerWalksTheStepsThatExplainIt() {
    SampleBench bench = SampleBenches.sharpest("sphere_walker", WORD);
    Contract exact = bench.contract().withReference(Reference.exact(steps(bench)));
    bench.of(CompiledDesign.of(bench.rtl())).contract(exact).cases(1_000).check();
  }

  /** The plane's steps give what its reference does, in words of other widths too. */
  @Test
  void thePlaneThatExplainsIsThePlane() {
    RandomStream chance = RandomStream.of(20);
    for (int round = 0; round < 4; round++) {
      int width = 12 + chance.below(20);
      int fraction = 4 + chance.below(width - 8);
      Format word = Format.signed(width - fraction, fraction);
      Format direction = Format.signed(2, Math.min(fraction, 16));
      SampleBench bench = SampleBenches.plane(word, direction, word);
      Reference reference = bench.contract().reference();
      Reference.Evaluation held = reference.open(1_024);
      BitEvaluation steps = steps(bench).bits(1_024);
      List<Operand> inputs = reference.inputs();
      for (int i = 0; i < inputs.size(); i++) {
        long[] column = held.input(i, 0);
        Generator.Source codes = Generator.corners().open(inputs.get(i).format(), chance.next());
        codes.fill(new long[][] {column}, 0, column.length);
        System.arraycopy(column, 0, steps.input(i, 0), 0, column.length);
      }
      held.run(1_024);
      steps.run(1_024);
      for (int o = 0; o < reference.outputs().size(); o++) {
        for (int n = 0; n < 1_024; n++) {
          String at = word + ", " + reference.outputs().get(o) + " of case " + n;
          assertEquals(held.low(o, 0)[n], steps.output(o, 0)[n], at);
        }
      }
    }
  }
}
