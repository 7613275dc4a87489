package dev.plumbline.lockstep;

import dev.plumbline.contract.ContractException;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.program.WordLayout;
import dev.plumbline.models.traversal.Alteration;
import dev.plumbline.models.traversal.ExecutorTiming;
import dev.plumbline.models.traversal.Pace;
import dev.plumbline.models.traversal.Predictor;
import dev.plumbline.models.traversal.RayRules;
import dev.plumbline.models.traversal.SceneUnits;
import dev.plumbline.models.traversal.Traversal;
import dev.plumbline.text.Names;
import java.math.BigInteger;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Objects;
import java.util.Set;

/**
 * What an executor in RTL promises, and what its ports are called: the one class that fits another
 * executor to a {@link LockstepBench}.
 *
 * <pre>{@code
 * Executor ours =
 *     Executor.of(formats, new ProgramLimits(1024, 4, 256)).timing(53, 64, TWO_BIT, 4).build();
 * Executor yours =
 *     Executor.of(formats, limits).layout(myWords).port("ray_valid", "go").without("retire_valid").build();
 * }</pre>
 *
 * <p>Ports are spoken of by their standard names. A design has to have {@code load_valid,
 * load_address, load_word}; {@code ray_valid, ray_ready, ray_origin_x, ..., ray_direction_x, ...};
 * {@code result_valid}. What else it has is used, what it does not have is not. Any further input
 * is {@linkplain Builder#hold held}:
 *
 * <ul>
 *   <li>inputs {@code rst} (synchronous, active high), {@code ray_abort}, {@code ray_inverse_x,
 *       ..., ray_parallel_x, ..., ray_start, ray_limit, ray_any_hit, ray_tag, result_ready}; a ray
 *       starts at 0 where there is no start, and looks for the nearest surface where there is no
 *       limit;
 *   <li>with each result {@code result_hit, result_distance, result_address, result_face,
 *       result_material, result_reversed, result_inward, result_overflow, result_tag,
 *       result_cycles, result_operations, result_predicted_right, result_predicted_wrong};
 *   <li>{@code retire_valid} with each operation, and {@code retire_address, retire_operation,
 *       retire_taken, retire_height, retire_count, retire_distance, retire_surface,
 *       retire_material, retire_reversed, retire_best_hit, retire_best_distance,
 *       retire_best_surface, retire_best_material, retire_best_reversed, retire_best_inward,
 *       retire_overflow};
 *   <li>inputs {@code surface_read, surface_address} and {@code surface_word}, which is the program
 *       word of the address from the cycle after on, until the next read; it is compared with each
 *       result.
 * </ul>
 *
 * <p>What is met is a surface or a material, whichever ports there are. A surface is a solid's
 * address in the program, in as many bits as the longest program needs, and above it the number of
 * its face in three bits, as {@link dev.plumbline.models.traversal.SurfaceNumber} has it.
 *
 * <p>The list at the retirement port is its ends in ascending order, field 0 lowest, 0 beyond the
 * count. What starts and limits mean, and what any-hit rays tell, is said by {@link Builder#rules}.
 * Without a timing no cycle is promised: then only order and values are compared, and rays may be
 * accepted while others are under way. Immutable.
 */
public final class Executor {
  /** In which cycle what happens. */
  record Timing(Pace pace, Predictor.Policy policy, int indexBits) {
    Predictor predictor() {
      return Predictor.of(policy, indexBits);
    }

    /** Cycles that a wrong prediction costs at least. */
    int wrong() {
      return pace.decision() > 0 ? pace.decision() : pace.latency();
    }

    /** How many states an entry of the predictor has. */
    int states() {
      return policy == Predictor.Policy.ONE_BIT ? 2 : 4;
    }

    ExecutorTiming reset(Predictor predictor, Alteration altered) {
      if (altered == Alteration.OTHER_PREDICTIONS_KEPT) {
        predictor.setState(0, 0);
      } else if (altered != Alteration.PREDICTIONS_KEPT) {
        predictor.reset();
      }
      return new ExecutorTiming(pace, predictor, altered);
    }
  }

  private final Builder promised;

  private Executor(Builder promised) {
    this.promised = promised;
  }

  /**
   * Begins a description.
   *
   * @param formats of programs and rays
   * @param limits what programs may be
   * @return a builder: standard units, rules, words and names, 4 spans, no timing
   */
  public static Builder of(SceneFormats formats, ProgramLimits limits) {
    return new Builder(formats, limits);
  }

  SceneFormats formats() {
    return promised.formats;
  }

  ProgramLimits limits() {
    return promised.limits;
  }

  SceneUnits units() {
    return promised.units;
  }

  RayRules rules() {
    return promised.rules;
  }

  /** The model in bits. */
  Traversal traversal() {
    return Traversal.exact(units(), spans(), rules());
  }

  WordLayout layout() {
    return promised.layout;
  }

  int spans() {
    return promised.spans;
  }

  /** Null where no cycle is promised. */
  Timing timing() {
    return promised.timing;
  }

  /** Entries of the table of predictions; 1 where there is none. */
  int entries() {
    return promised.timing == null ? 1 : 1 << promised.timing.indexBits();
  }

  /** The port of a standard name; null where it is declared not to be there. */
  String port(String role) {
    return promised.without.contains(role) ? null : promised.names.getOrDefault(role, role);
  }

  /** Whether a port is declared not to be there or not to be used. */
  boolean isWithout(String role) {
    return promised.without.contains(role);
  }

  /** What further inputs are held at, by port. */
  Map<String, BigInteger> held() {
    return promised.held;
  }

  /** Whether a port was named on purpose, so that it has to be there. */
  boolean isNamed(String role) {
    return promised.names.containsKey(role);
  }

  /** Sets how an executor differs from the standard one. */
  public static final class Builder {
    private final SceneFormats formats;
    private final ProgramLimits limits;
    private SceneUnits units;
    private RayRules rules = RayRules.standard();
    private WordLayout layout;
    private int spans = 4;
    private Timing timing;
    private Map<String, String> names = new HashMap<>();
    private Set<String> without = new HashSet<>();
    private Map<String, BigInteger> held = new LinkedHashMap<>();

    private Builder(SceneFormats formats, ProgramLimits limits) {
      this.formats = Objects.requireNonNull(formats, "formats");
      this.limits = Objects.requireNonNull(limits, "limits");
      this.units = SceneUnits.of(formats);
      this.layout = WordLayout.standard(formats);
    }

    private Builder(Builder other) {
      formats = other.formats;
      limits = other.limits;
      units = other.units;
      rules = other.rules;
      layout = other.layout;
      spans = other.spans;
      timing = other.timing;
      names = Map.copyOf(other.names);
      without = Set.copyOf(other.without);
      held = new LinkedHashMap<>(other.held);
    }

    /**
     * Sets how spans are found.
     *
     * @param found the units; {@link SceneUnits#of} unless set
     * @return this builder
     */
    public Builder units(SceneUnits found) {
      units = Objects.requireNonNull(found, "units");
      return this;
    }

    /**
     * Sets what is made of a ray's start and limit.
     *
     * @param followed the rules; {@link RayRules#standard} unless set
     * @return this builder
     */
    public Builder rules(RayRules followed) {
      rules = Objects.requireNonNull(followed, "rules");
      return this;
    }

    /**
     * Sets what an instruction word looks like.
     *
     * @param words the layout; {@link WordLayout#standard} unless set
     * @return this builder
     */
    public Builder layout(WordLayout words) {
      layout = Objects.requireNonNull(words, "layout");
      return this;
    }

    /**
     * Sets how many spans a list holds.
     *
     * @param most 1 or more; 4 unless set
     * @return this builder
     */
    public Builder spans(int most) {
      if (most < 1) {
        throw new IllegalArgumentException(
            "Executor of " + most + " spans a list: it has to be 1 or more.");
      }
      spans = most;
      return this;
    }

    /**
     * Promises cycles, as {@link ExecutorTiming} has them, at the pace of {@link Pace#of}.
     *
     * @param latency cycles from dispatch to arrival in the retirement queue
     * @param queue most operations dispatched and not retired
     * @param policy of prediction
     * @param indexBits address bits that choose a prediction
     * @return this builder
     */
    public Builder timing(int latency, int queue, Predictor.Policy policy, int indexBits) {
      return timing(Pace.of(latency, queue), policy, indexBits);
    }

    /**
     * Promises cycles, as {@link ExecutorTiming} has them.
     *
     * @param pace what takes how long
     * @param policy of prediction
     * @param indexBits address bits that choose a prediction
     * @return this builder
     */
    public Builder timing(Pace pace, Predictor.Policy policy, int indexBits) {
      timing = new Timing(Objects.requireNonNull(pace, "pace"), policy, indexBits);
      return this;
    }

    /**
     * Takes back the promise of cycles.
     *
     * @return this builder
     */
    public Builder untimed() {
      timing = null;
      return this;
    }

    /**
     * Sets what a port is called.
     *
     * @param role its standard name
     * @param name its name in the RTL, which has to be there, or that of an element such as {@code
     *     origin[0]}
     * @return this builder
     */
    public Builder port(String role, String name) {
      names.put(checked(role), Objects.requireNonNull(name, "name"));
      return this;
    }

    /**
     * Sets that ports are not there or not to be used, though the RTL may have some of these names.
     *
     * @param roles standard names
     * @return this builder
     */
    public Builder without(String... roles) {
      for (String role : roles) {
        without.add(checked(role));
      }
      return this;
    }

    /**
     * Holds a further input at one value throughout, such as an enable.
     *
     * @param port its name in the RTL, or that of an element
     * @param code its code, of as many bits as it has at most
     * @return this builder
     */
    public Builder hold(String port, long code) {
      held.put(Objects.requireNonNull(port, "port"), BigInteger.valueOf(code));
      return this;
    }

    private static String checked(String role) {
      if (!Ports.ROLES.contains(role)) {
        throw new ContractException(
            "Executor has no standard port \""
                + role
                + "\"; "
                + Names.hint(role, Ports.ROLES)
                + ".");
      }
      return role;
    }

    /**
     * Ends the description.
     *
     * @return the executor
     */
    public Executor build() {
      return new Executor(new Builder(this));
    }
  }
}
