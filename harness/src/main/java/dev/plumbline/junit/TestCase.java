package dev.plumbline.junit;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.extension.ExtensionContext;

/**
 * One test as reports and seeds name it, and the command that runs it again.
 *
 * @param className the class without its package; nested ones after a dollar sign
 * @param method the method
 * @param invocation which invocation of a repeated or parameterized test, such as {@code [2]}; else
 *     empty
 */
record TestCase(String className, String method, String invocation) {
  private static final Pattern INVOCATION = Pattern.compile("invocation:#(\\d+)\\]$");

  static TestCase of(ExtensionContext context) {
    Class<?> type = context.getRequiredTestClass();
    String name = type.getName().substring(type.getPackageName().length()).replaceFirst("^\\.", "");
    Matcher number = INVOCATION.matcher(context.getUniqueId());
    return new TestCase(
        name,
        context.getTestMethod().map(method -> method.getName()).orElse(""),
        number.find() ? "[" + number.group(1) + "]" : "");
  }

  /** Names the test in reports. */
  String name() {
    return className + (method.isEmpty() ? "" : "." + method) + invocation;
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
    return "mvn test" + module + " -Dtest=" + quoted + " -Dplumbline.seed=" + seed;
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
