package dev.plumbline.samples;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.lockstep.Executor;
import dev.plumbline.lockstep.LockstepBench;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.traversal.Predictor;
import dev.plumbline.rtl.RtlSource;
import java.nio.file.Path;
import java.util.List;

/**
 * The scene executor in one configuration.
 *
 * @param name in reports
 * @param word of points and distances
 * @param direction of directions and normals
 * @param materialBits parameter M
 * @param spans parameter C
 * @param lists parameter S
 * @param addressBits parameter A
 * @param predictionBits parameter P
 * @param queue parameter Q
 */
record SampleExecutor(
    String name,
    Format word,
    Format direction,
    int materialBits,
    int spans,
    int lists,
    int addressBits,
    int predictionBits,
    int queue) {

  /** The default parameters. */
  static final SampleExecutor STANDARD =
      new SampleExecutor(
          "scene_executor s16.16", Format.signed(16, 16), Format.signed(2, 16), 8, 4, 4, 10, 4, 64);

  /** Small in everything, so that every limit is met often, and quickly built. */
  static final SampleExecutor SMALL =
      new SampleExecutor(
          "scene_executor s8.8 small", Format.signed(8, 8), Format.signed(2, 8), 3, 2, 3, 6, 2, 12);

  static List<SampleExecutor> all() {
    return List.of(STANDARD, SMALL);
  }

  /** The RTL, from the folder of the samples or from a copy. */
  RtlSource rtlIn(Path folder) {
    return RtlSource.of(folder.resolve("scene_executor.sv"))
        .withTop("scene_executor")
        .withIncludeFolder(folder)
        .withLibraryFolder(folder)
        .withParameter("W", Integer.toString(word.width()))
        .withParameter("F", Integer.toString(word.fractionBits()))
        .withParameter("DW", Integer.toString(direction.width()))
        .withParameter("DF", Integer.toString(direction.fractionBits()))
        .withParameter("M", Integer.toString(materialBits))
        .withParameter("C", Integer.toString(spans))
        .withParameter("S", Integer.toString(lists))
        .withParameter("A", Integer.toString(addressBits))
        .withParameter("P", Integer.toString(predictionBits))
        .withParameter("Q", Integer.toString(queue));
  }

  SceneFormats formats() {
    return SceneFormats.of(word, direction);
  }

  ProgramLimits limits() {
    return new ProgramLimits(1 << addressBits, lists, 1 << materialBits);
  }

  /** Cycles from dispatch to arrival, as the header has it. */
  int latency() {
    return word.width() + 21;
  }

  /** Cycles lost by a wrong prediction: the next dispatch is 2 after a retirement, not 1 later. */
  int misprediction() {
    return latency() + 1;
  }

  /** What the header of scene_executor.sv promises. */
  Executor.Builder promise() {
    return Executor.of(formats(), limits())
        .spans(spans)
        .timing(latency(), queue, Predictor.Policy.TWO_BIT, predictionBits);
  }

  LockstepBench.Builder bench(CompiledDesign model) {
    return LockstepBench.of(model).named(name).executor(promise().build());
  }

  @Override
  public String toString() {
    return name;
  }
}
