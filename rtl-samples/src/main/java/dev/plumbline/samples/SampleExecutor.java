package dev.plumbline.samples;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.lockstep.Executor;
import dev.plumbline.lockstep.LockstepBench;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.traversal.Pace;
import dev.plumbline.models.traversal.Predictor;
import dev.plumbline.rtl.RtlSource;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * The scene executor in one configuration.
 *
 * @param name in reports
 * @param word of points and distances
 * @param direction of directions and normals
 * @param spans parameter C
 * @param lists parameter S
 * @param addressBits parameter A
 * @param predictionBits parameter P
 * @param queue parameter Q
 * @param tagBits parameter TAG
 */
public record SampleExecutor(
    String name,
    Format word,
    Format direction,
    int spans,
    int lists,
    int addressBits,
    int predictionBits,
    int queue,
    int tagBits) {

  /** Cycles from the dispatch of a skip to its early decision, and from there to the next. */
  private static final int DECISION = 10;

  private static final int REDIRECTION = 2;

  /** Bits of a material in a program's word. */
  private static final int MATERIAL_BITS = 8;

  /** The default parameters. */
  public static final SampleExecutor STANDARD =
      new SampleExecutor(
          "scene_executor s16.16", Format.signed(16, 16), Format.signed(2, 16), 4, 4, 10, 4, 64, 4);

  /** Small in everything, so that every limit is met often, and quickly built. */
  public static final SampleExecutor SMALL =
      new SampleExecutor(
          "scene_executor s8.8 small", Format.signed(8, 8), Format.signed(2, 8), 2, 3, 6, 2, 12, 1);

  /**
   * Both.
   *
   * @return the executors of the regression
   */
  public static List<SampleExecutor> all() {
    return List.of(STANDARD, SMALL);
  }

  /**
   * The RTL with these parameters.
   *
   * @return sources of the sample folder
   */
  public RtlSource rtl() {
    Map<String, String> parameters = new LinkedHashMap<>();
    parameters.put("W", Integer.toString(word.width()));
    parameters.put("F", Integer.toString(word.fractionBits()));
    parameters.put("DW", Integer.toString(direction.width()));
    parameters.put("DF", Integer.toString(direction.fractionBits()));
    parameters.put("C", Integer.toString(spans));
    parameters.put("S", Integer.toString(lists));
    parameters.put("A", Integer.toString(addressBits));
    parameters.put("P", Integer.toString(predictionBits));
    parameters.put("Q", Integer.toString(queue));
    parameters.put("TAG", Integer.toString(tagBits));
    return SampleRtl.in(SampleRtl.FOLDER, "scene_executor", parameters);
  }

  /**
   * Formats of points and directions.
   *
   * @return as the model takes them
   */
  public SceneFormats formats() {
    return SceneFormats.of(word, direction);
  }

  /**
   * What a program has to keep to.
   *
   * @return as the model takes them
   */
  public ProgramLimits limits() {
    return new ProgramLimits(1 << addressBits, lists, 1 << MATERIAL_BITS);
  }

  /**
   * How long an operation is on its way.
   *
   * @return cycles from dispatch to arrival, as the header has it
   */
  public int latency() {
    return word.width() + 22;
  }

  /** Cycles lost by a wrong prediction that shows early: the next dispatch is 12 later, not 1. */
  int misprediction() {
    return DECISION + REDIRECTION - 1;
  }

  /** What takes how long, as the header has it. */
  Pace pace() {
    return Pace.of(latency(), queue)
        .withEarlyDecision(DECISION, REDIRECTION)
        .withFlush(3)
        .withLearning(2)
        .withClose(1)
        .withResult(2);
  }

  /**
   * What the header of scene_executor.sv promises.
   *
   * @return a builder that needs nothing more
   */
  public Executor.Builder promise() {
    return Executor.of(formats(), limits())
        .spans(spans)
        .hold("ray_abort", 0)
        .timing(pace(), Predictor.Policy.TWO_BIT, predictionBits);
  }

  /**
   * The bench over a model of it.
   *
   * @param model the executor as it stands, or a copy of it
   * @return a bench that still has the standard cases and seed
   */
  public LockstepBench.Builder bench(CompiledDesign model) {
    return LockstepBench.of(model).named(name).executor(promise().build());
  }

  @Override
  public String toString() {
    return name;
  }
}
