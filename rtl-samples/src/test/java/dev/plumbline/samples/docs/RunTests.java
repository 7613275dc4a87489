package dev.plumbline.samples.docs;

import static org.junit.platform.engine.discovery.DiscoverySelectors.selectClass;

import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.util.stream.Stream;
import org.junit.platform.engine.support.descriptor.MethodSource;
import org.junit.platform.launcher.LauncherDiscoveryRequest;
import org.junit.platform.launcher.core.LauncherDiscoveryRequestBuilder;
import org.junit.platform.launcher.core.LauncherFactory;
import org.junit.platform.launcher.listeners.SummaryGeneratingListener;
import org.junit.platform.launcher.listeners.TestExecutionSummary;

/** Runs test classes in a JVM of their own, with a working folder of their own. */
final class RunTests {
  private RunTests() {}

  /** A line for each test that failed: its class, and what it threw. */
  private static void print(TestExecutionSummary.Failure failure) {
    failure
        .getTestIdentifier()
        .getSource()
        .map(source -> source instanceof MethodSource method ? method.getClassName() : "?")
        .ifPresent(
            name ->
                System.out.println(
                    "FAILED " + name + " " + failure.getException().getClass().getSimpleName()));
  }

  /** Takes names of classes; the status is 0 when tests ran and none failed. */
  public static void main(String[] arguments) {
    LauncherDiscoveryRequest request =
        LauncherDiscoveryRequestBuilder.request()
            .selectors(Stream.of(arguments).map(name -> selectClass(name)).toList())
            .build();
    SummaryGeneratingListener listener = new SummaryGeneratingListener();
    LauncherFactory.create().execute(request, listener);
    listener.getSummary().getFailures().forEach(RunTests::print);
    listener
        .getSummary()
        .printFailuresTo(new PrintWriter(System.out, true, StandardCharsets.UTF_8), 3);
    boolean passed =
        listener.getSummary().getTestsSucceededCount() > 0
            && listener.getSummary().getTestsSucceededCount() >= arguments.length
            && listener.getSummary().getTotalFailureCount() == 0;
    System.exit(passed ? 0 : 1);
  }
}
