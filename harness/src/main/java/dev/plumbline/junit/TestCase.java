package dev.plumbline.junit;

import java.lang.reflect.Method;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.extension.ExtensionContext;

/**
 * One test as reports and seeds name it, and the command that runs it again.
 *
 * @param packageName the package; empty for the unnamed one
 * @param className the class without its package; nested ones after a dollar sign
 * @param method the method; empty outside of one
 * @param parameters the types of the method's parameters, which tell overloads apart
 * @param invocation which invocation of a repeated or parameterized test or class, such as {@code
 *     [2]}; else empty
 */
record TestCase(
    String packageName, String className, String method, String parameters, String invocation) {
  private static final Pattern INVOCATION = Pattern.compile("invocation:#(\\d+)\\]");

  static TestCase of(ExtensionContext context) {
    Class<?> type = context.getRequiredTestClass();
    StringBuilder invocation = new StringBuilder();
    Matcher number = INVOCATION.matcher(context.getUniqueId());
    while (number.find()) {
      invocation.append('[').append(number.group(1)).append(']');
    }
    return new TestCase(
        type.getPackageName(),
        type.getName().substring(type.getPackageName().length()).replaceFirst("^\\.", ""),
        context.getTestMethod().map(Method::getName).orElse(""),
        context.getTestMethod().map(TestCase::parameters).orElse(""),
        invocation.toString());
  }

  private static String parameters(Method method) {
    return Stream.of(method.getParameterTypes())
        .map(Class::getName)
        .collect(Collectors.joining(", ", "(", ")"));
  }

  /** Names the test in reports. */
  String name() {
    return className + (method.isEmpty() ? "" : "." + method) + invocation;
  }

  /** The invocation as a property names it, such as 2, or 1.2 within an invocation of a class. */
  String number() {
    return invocation.replace("][", ".").replaceAll("[\\[\\]]", "");
  }

  /** Names the test as no other is named. */
  String fullName() {
    return packageName + "." + className + "." + method + parameters + invocation;
  }

  /** The command that runs the test again, from the folder of the outermost pom. */
  String command(Path base, long seed) {
    String test = className + (method.isEmpty() ? "" : "#" + method);
    String quoted = test.contains("$") ? "'" + test + "'" : test;
    Path root = outermost(base);
    String module =
        root.equals(base)
            ? ""
            : " -pl " + root.relativize(base) + " -am -Dsurefire.failIfNoSpecifiedTests=false";
    String one = invocation.isEmpty() ? "" : " -Dplumbline.invocation=" + number();
    return "mvn test" + module + " -Dtest=" + quoted + one + " -Dplumbline.seed=" + seed;
  }

  private static Path outermost(Path base) {
    Path root = base;
    for (Path folder = base.getParent();
        folder != null && Files.exists(folder.resolve("pom.xml"));
        folder = folder.getParent()) {
      root = folder;
    }
    return root;
  }
}
