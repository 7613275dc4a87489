package dev.plumbline.junit;

import static org.junit.platform.engine.discovery.DiscoverySelectors.selectClass;
import static org.junit.platform.engine.discovery.DiscoverySelectors.selectMethod;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import org.junit.platform.engine.DiscoverySelector;
import org.junit.platform.engine.TestExecutionResult;
import org.junit.platform.launcher.TestExecutionListener;
import org.junit.platform.launcher.TestIdentifier;
import org.junit.platform.launcher.core.LauncherDiscoveryRequestBuilder;
import org.junit.platform.launcher.core.LauncherFactory;

/**
 * Runs tests of {@link LaunchedTests} as JUnit would. Their RTL stands in one folder, so that each
 * design is built once for them all; what they report, in a folder of their caller's.
 */
final class Launch {
  static final Path RTL = Path.of("target", "launched").toAbsolutePath();

  /** The hour bell of the orrery: strikes = hours + quarters, one too many where it is cracked. */
  private static final String BELL =
      """
      module bell #(
          parameter int Crack = 256
      ) (
          input  logic       clk,
          input  logic       rst,
          input  logic       in_valid,
          input  logic [7:0] in_hours,
          input  logic [7:0] in_quarters,
          output logic       out_valid,
          output logic [8:0] out_strikes
      );
        logic cracked;
        assign cracked = 32'(in_hours) == Crack;
        always_ff @(posedge clk) begin
          out_valid <= in_valid && !rst;
          if (in_valid) out_strikes <= 9'(in_hours) + 9'(in_quarters) + 9'(cracked);
          if (in_valid && cracked) $display("cracked at quarter %0d", in_quarters);
        end
      endmodule
      """;

  private final Map<String, String> properties = new HashMap<>();

  /** A combinational loop once a shutter is open. */
  private static final String FLUTTER =
      """
      module flutter (input clk, input open, output logic [1:0] seen);
        wire [1:0] vane;
        assign vane[0] = open & ~vane[1];
        assign vane[1] = vane[0];
        always_ff @(posedge clk) seen <= vane;
      endmodule
      """;

  /** What came of it. Tests by their display name. */
  record Outcome(Map<String, Optional<Throwable>> tests, String output) {
    /** What the only test threw. */
    Throwable thrown() {
      if (tests.size() != 1) {
        throw new AssertionError(tests.toString());
      }
      return thrown(tests.keySet().iterator().next());
    }

    Throwable thrown(String test) {
      return tests.get(test).orElseThrow(() -> new AssertionError(test + " passed\n" + output));
    }

    /** Fails unless every test passed, so many of them. */
    Outcome passed(int count) {
      tests.forEach(
          (name, thrown) ->
              thrown.ifPresent(
                  what -> {
                    throw new AssertionError(name + " failed", what);
                  }));
      if (tests.size() != count) {
        throw new AssertionError(tests.keySet() + " ran, not " + count);
      }
      return this;
    }
  }

  Launch(Path folder) {
    file("bell.sv", BELL);
    file("mended/bell.sv", BELL.replace("32'(in_hours) == Crack;", "Crack < 0;"));
    file("flutter.sv", FLUTTER);
    with(
        "junit.jupiter.execution.parallel.enabled", "false"); // on the thread that catches its text
    with("basedir", RTL.toString());
    with("plumbline.reports", folder.resolve("reports").toString());
    with("plumbline.run", "evening");
    with("plumbline.seed", "1");
  }

  Launch with(String property, String value) {
    properties.put(property, value);
    return this;
  }

  /** Puts a file beside the tests' RTL. */
  Launch file(String name, String text) {
    Path file = RTL.resolve(name);
    try {
      Files.createDirectories(file.getParent());
      Files.writeString(file, text);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return this;
  }

  Outcome run(Class<?> tests) {
    return run(selectClass(tests));
  }

  /** A method with its parameter types, such as {@code test(int)}. */
  Outcome run(Class<?> tests, String method) {
    return run(selectMethod(tests.getName() + "#" + method));
  }

  private Outcome run(DiscoverySelector selector) {
    Map<String, Optional<Throwable>> tests = new ConcurrentHashMap<>();
    TestExecutionListener listener =
        new TestExecutionListener() {
          @Override
          public void executionFinished(TestIdentifier test, TestExecutionResult result) {
            if (test.isTest() || result.getStatus() != TestExecutionResult.Status.SUCCESSFUL) {
              tests.put(test.getDisplayName(), result.getThrowable());
            }
          }
        };
    ByteArrayOutputStream output = new ByteArrayOutputStream();
    Printed.CAUGHT.set(output);
    try {
      LauncherFactory.create()
          .execute(
              LauncherDiscoveryRequestBuilder.request()
                  .selectors(selector)
                  .configurationParameters(properties)
                  .build(),
              listener);
    } finally {
      Printed.CAUGHT.remove();
    }
    return new Outcome(tests, output.toString(StandardCharsets.UTF_8));
  }
}
