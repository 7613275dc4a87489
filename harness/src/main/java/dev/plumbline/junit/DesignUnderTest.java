package dev.plumbline.junit;

import java.lang.annotation.ElementType;
import java.lang.annotation.Inherited;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;
import org.junit.jupiter.api.extension.ExtendWith;

/**
 * Names the RTL of a test class, or of one test of it.
 *
 * <pre>{@code
 * @DesignUnderTest(sources = "rtl/reciprocal.sv", top = "reciprocal", parameters = {"W=32", "F=16"})
 * class ReciprocalTest {
 *   @Test
 *   void holdsToItsReference(Bench.Builder bench) {
 *     bench.contract(contract).cases(1_000_000).check();
 *   }
 * }
 * }</pre>
 *
 * <p>Tests may take these parameters: {@link dev.plumbline.cosim.CompiledDesign}; {@link
 * dev.plumbline.cosim.Dut}, opened for the test with random initial state and closed after it;
 * {@link dev.plumbline.check.Bench.Builder} and {@link
 * dev.plumbline.lockstep.LockstepBench.Builder}, bound to the model, the seed and the run's report;
 * and {@link Seed}. Each test draws from a stream of its own, which follows from property {@code
 * plumbline.seed}. Paths are relative to the module's base folder. Safe under parallel execution.
 */
@Retention(RetentionPolicy.RUNTIME)
@Target({ElementType.TYPE, ElementType.METHOD})
@Inherited
@ExtendWith(DesignExtension.class)
public @interface DesignUnderTest {
  /**
   * Source files.
   *
   * @return paths in order
   */
  String[] sources() default {};

  /**
   * The top module.
   *
   * @return its name; empty when the sources have one module that nobody instantiates
   */
  String top() default "";

  /**
   * Overrides of the top module's parameters.
   *
   * @return such as {@code "W=32"}, the value a Verilog literal
   */
  String[] parameters() default {};

  /**
   * Preprocessor macros.
   *
   * @return such as {@code "FAST"} or {@code "DEPTH=4"}
   */
  String[] defines() default {};

  /**
   * Folders for include files.
   *
   * @return paths
   */
  String[] includeFolders() default {};

  /**
   * Folders in which modules are found by file name.
   *
   * @return paths
   */
  String[] libraryFolders() default {};

  /**
   * Files that list further sources and options.
   *
   * @return paths
   */
  String[] fileLists() default {};

  /**
   * Further arguments for Verilator.
   *
   * @return arguments as they stand
   */
  String[] arguments() default {};

  /**
   * A waveform to keep of tests that pass, in {@code waveform.vcd} of the test's folder in the
   * report: which cycles, and which scopes where not all, such as {@code "0-200 gear.wheel"}. Tests
   * that fail leave one anyway.
   *
   * @return cycles and scopes; none by default
   */
  String waveform() default "";

  /**
   * The clocks, where there are several: port, period and phase, in any unit of time, as {@link
   * dev.plumbline.cosim.Clocking} has them.
   *
   * @return such as {@code {"wr_clk 10", "rd_clk 17 3"}}; none for the only clock of the design
   */
  String[] clocks() default {};

  /**
   * What {@code $test$plusargs} and {@code $value$plusargs} find.
   *
   * @return words without the plus
   */
  String[] plusargs() default {};

  /**
   * How long a call may make no progress.
   *
   * @return seconds; 0 for the ten that are usual
   */
  double timeoutSeconds() default 0;

  /**
   * Whether the model runs in a process of its own whatever its design.
   *
   * @return true to have one
   */
  boolean isolated() default false;

  /**
   * What the model may do that it may not by default.
   *
   * @return nothing by default
   */
  Allowed[] allowed() default {};

  /** What a model may be allowed. */
  enum Allowed {
    /** To go on after {@code $error}. */
    ERRORS,
    /** To run commands by {@code $system}. */
    SYSTEM_CALLS,
    /** To begin without the files that {@code $readmemh} names. */
    MISSING_MEMORY_FILES
  }
}
