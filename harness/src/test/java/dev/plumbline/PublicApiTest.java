package dev.plumbline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.check.Bench;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.run.BenchBuilder;
import java.io.IOException;
import java.io.InputStream;
import java.lang.module.ModuleDescriptor;
import java.lang.reflect.AccessibleObject;
import java.lang.reflect.Executable;
import java.lang.reflect.Field;
import java.lang.reflect.Member;
import java.lang.reflect.Method;
import java.lang.reflect.Modifier;
import java.net.URISyntaxException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/**
 * The public types and members of the packages that the modules export, so that growth of what
 * users write against is seen in review.
 */
class PublicApiTest {
  private static final Path GOLDEN = Path.of("src/test/resources/public-api.txt");

  /** A class of each module that is listed. */
  private static final List<Class<?>> MODULES = List.of(Format.class, Bench.class);

  @Test
  void whatIsPublicIsOnTheList() throws Exception {
    List<String> found = new ArrayList<>();
    for (Class<?> anchor : MODULES) {
      Path classes = classesOf(anchor);
      for (String name : exported(classes)) {
        types(classes, name).forEach(type -> list(type, found));
      }
    }
    assertTrue(found.size() > 500, found.size() + " lines");
    Path actual = Path.of("target/public-api.txt");
    Files.write(actual, found);
    assertEquals(
        String.join("\n", Files.readAllLines(GOLDEN)),
        String.join("\n", found),
        "the public API changed; if that is meant, copy " + actual + " over " + GOLDEN);
  }

  private static Path classesOf(Class<?> anchor) throws URISyntaxException {
    return Path.of(anchor.getProtectionDomain().getCodeSource().getLocation().toURI());
  }

  /** The packages that everybody may use. */
  private static Set<String> exported(Path classes) throws IOException {
    try (InputStream in = Files.newInputStream(classes.resolve("module-info.class"))) {
      return ModuleDescriptor.read(in).exports().stream()
          .filter(exports -> !exports.isQualified())
          .map(ModuleDescriptor.Exports::source)
          .collect(Collectors.toCollection(TreeSet::new));
    }
  }

  private static List<Class<?>> types(Path classes, String packageName) throws IOException {
    try (Stream<Path> files = Files.list(classes.resolve(packageName.replace('.', '/')))) {
      List<Class<?>> types = new ArrayList<>();
      for (String file : files.map(file -> file.getFileName().toString()).sorted().toList()) {
        if (file.endsWith(".class") && !file.equals("package-info.class")) {
          String name = packageName + "." + file.substring(0, file.length() - ".class".length());
          types.add(load(name));
        }
      }
      return types;
    }
  }

  private static Class<?> load(String name) {
    try {
      return Class.forName(name, false, PublicApiTest.class.getClassLoader());
    } catch (ClassNotFoundException e) {
      throw new AssertionError(name, e);
    }
  }

  private static void list(Class<?> type, List<String> lines) {
    if (!isSeen(type)) {
      return;
    }
    lines.add(type.getName());
    Set<String> members = new TreeSet<>();
    Stream.of(type.getDeclaredFields(), type.getDeclaredConstructors())
        .flatMap(Arrays::stream)
        .filter(PublicApiTest::isSeen)
        .forEach(member -> members.add("  " + text(member)));
    // What a hidden superclass declares is written against through this type.
    Class<?> declaring = type;
    do {
      Arrays.stream(declaring.getDeclaredMethods())
          .filter(PublicApiTest::isSeen)
          .forEach(method -> members.add("  " + text(method)));
      declaring = declaring.getSuperclass();
    } while (declaring != null && isHidden(declaring));
    lines.addAll(members);
  }

  private static boolean isHidden(Class<?> type) {
    return type.getName().startsWith("dev.plumbline.")
        && (!isSeen(type) || type.getPackageName().equals(BenchBuilder.class.getPackageName()));
  }

  /** Public all the way out. */
  private static boolean isSeen(Class<?> type) {
    return Modifier.isPublic(type.getModifiers())
        && !type.isSynthetic()
        && (type.getDeclaringClass() == null || isSeen(type.getDeclaringClass()));
  }

  private static boolean isSeen(AccessibleObject object) {
    Member member = (Member) object;
    return !member.isSynthetic()
        && (Modifier.isPublic(member.getModifiers())
            || Modifier.isProtected(member.getModifiers()));
  }

  private static String text(AccessibleObject member) {
    if (member instanceof Field field) {
      return field.getType().getSimpleName() + " " + field.getName();
    }
    Executable executable = (Executable) member;
    String parameters =
        Arrays.stream(executable.getParameterTypes())
            .map(Class::getSimpleName)
            .collect(Collectors.joining(", ", "(", ")"));
    return executable instanceof Method method
        ? method.getReturnType().getSimpleName() + " " + method.getName() + parameters
        : "new" + parameters;
  }
}
