package dev.plumbline.junit;

import java.lang.annotation.ElementType;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;

/**
 * Names cases that a bench runs before its stimulus, so that a fault once found stays found.
 *
 * <pre>{@code
 * @Test
 * @Cases("src/test/cases/reciprocal") // every *.csv in that folder
 * void holdsToItsReference(Bench.Builder bench) {
 *   bench.contract(contract).cases(1_000_000).check();
 * }
 * }</pre>
 *
 * <p>The files are those of an evidence folder, {@code case-1.csv} or the like, under any name. On
 * a test it applies to each bench that the test is given; on a parameter, to that one.
 */
@Retention(RetentionPolicy.RUNTIME)
@Target({ElementType.METHOD, ElementType.PARAMETER})
public @interface Cases {
  /**
   * Where the cases are.
   *
   * @return files, folders of files, or resources of the test class; paths are relative to the
   *     module's base folder
   */
  String[] value();
}
