package dev.plumbline.watch;

import dev.plumbline.text.IoText;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.MalformedURLException;
import java.net.URL;
import java.net.URLClassLoader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.Pattern;
import org.junit.platform.engine.DiscoverySelector;
import org.junit.platform.engine.discovery.ClassNameFilter;
import org.junit.platform.engine.discovery.DiscoverySelectors;
import org.junit.platform.engine.support.descriptor.MethodSource;
import org.junit.platform.launcher.Launcher;
import org.junit.platform.launcher.LauncherDiscoveryRequest;
import org.junit.platform.launcher.TestExecutionListener;
import org.junit.platform.launcher.TestIdentifier;
import org.junit.platform.launcher.TestPlan;
import org.junit.platform.launcher.core.LauncherDiscoveryRequestBuilder;
import org.junit.platform.launcher.core.LauncherFactory;

/**
 * The user's test classes, run by the JUnit Platform as their own build runs them. Their code is
 * loaded anew each time, so that what was compiled meanwhile is what runs; Plumbline's own, and
 * what the JVM has learnt of it, stays.
 */
final class TestClasses {
  private final List<Path> places;
  private final List<String> names;
  private final Launcher launcher = LauncherFactory.create();

  /**
   * Test classes that stand in some places.
   *
   * @param places folders and jars with compiled code, tests among it
   * @param names classes with or without their packages; all that have tests where there are none
   */
  TestClasses(List<Path> places, List<String> names) {
    this.places = places;
    this.names = names;
  }

  /** The methods with tests, by their unique identifiers, named as reports name them. */
  Map<String, String> benches() {
    Map<String, String> benches = new LinkedHashMap<>();
    withCode(
        () ->
            launcher
                .discover(
                    request()
                        .selectors(DiscoverySelectors.selectClasspathRoots(roots()))
                        .filters(ClassNameFilter.includeClassNamePatterns(patterns()))
                        .build())
                .accept(
                    new TestPlan.Visitor() {
                      @Override
                      public void visit(TestIdentifier test) {
                        test.getSource()
                            .filter(MethodSource.class::isInstance)
                            .map(MethodSource.class::cast)
                            .ifPresent(at -> benches.put(test.getUniqueId(), name(at)));
                      }
                    }));
    return benches;
  }

  private static String name(MethodSource method) {
    String type = method.getClassName();
    return type.substring(type.lastIndexOf('.') + 1) + "." + method.getMethodName();
  }

  /** Runs some of them in turn, {@link #withCode}, with parameters of JUnit's configuration. */
  void run(List<String> benches, Map<String, String> parameters, TestExecutionListener listener) {
    LauncherDiscoveryRequest request =
        request()
            .configurationParameters(parameters)
            .selectors(
                benches.stream()
                    .map(DiscoverySelectors::selectUniqueId)
                    .toArray(DiscoverySelector[]::new))
            .build();
    launcher.execute(request, listener);
  }

  private LauncherDiscoveryRequestBuilder request() {
    return LauncherDiscoveryRequestBuilder.request()
        .configurationParameter("junit.jupiter.execution.parallel.enabled", "false");
  }

  private Set<Path> roots() {
    return new LinkedHashSet<>(places.stream().filter(Files::isDirectory).toList());
  }

  private String[] patterns() {
    return names.isEmpty()
        ? new String[] {".*"}
        : names.stream()
            .map(name -> "(.*[.])?" + Pattern.quote(name) + "([$].*)?")
            .toArray(String[]::new);
  }

  /** Does something in which all test code is what is compiled now. */
  void withCode(Runnable work) {
    Thread thread = Thread.currentThread();
    ClassLoader before = thread.getContextClassLoader();
    try (URLClassLoader code =
        new URLClassLoader(
            places.stream().map(TestClasses::url).toArray(URL[]::new),
            TestClasses.class.getClassLoader())) {
      thread.setContextClassLoader(code);
      work.run();
    } catch (IOException e) {
      throw new UncheckedIOException(
          "A class loader could not be closed: " + IoText.of(e) + ".", e);
    } finally {
      thread.setContextClassLoader(before);
    }
  }

  private static URL url(Path place) {
    try {
      return place.toUri().toURL();
    } catch (MalformedURLException e) {
      throw new IllegalArgumentException(
          "The path \"" + place + "\" is no place for classes; a folder or a jar is allowed.", e);
    }
  }
}
