package dev.plumbline.run;

import dev.plumbline.PlumblineException;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.toolchain.Digest;
import java.io.UncheckedIOException;
import java.lang.reflect.Array;
import java.lang.reflect.Field;
import java.lang.reflect.InaccessibleObjectException;
import java.lang.reflect.Modifier;
import java.math.BigDecimal;
import java.math.BigInteger;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.IdentityHashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.OptionalLong;
import java.util.Set;
import java.util.SortedMap;
import java.util.SortedSet;
import java.util.regex.Pattern;

/**
 * A digest of objects with all that they refer to, by the values of their fields: the data of a
 * bench, such as formats, tables, programs, and what its functions have captured. Code is no part
 * of it. Two graphs of equal digests hold equal data; of objects whose data cannot be told there is
 * no digest at all.
 */
final class Fingerprint {
  private static final Pattern LAMBDA = Pattern.compile("\\$\\$Lambda.*");

  private static final Set<Class<?>> PLAIN =
      Set.of(BigInteger.class, BigDecimal.class, Duration.class, String.class);

  private final IdentityHashMap<Object, String> known = new IdentityHashMap<>();
  private final Map<Path, String> files = new HashMap<>();

  /** Thrown where something has no digest; says what. */
  static final class UnknownException extends PlumblineException {
    private static final long serialVersionUID = 1;

    private final String what;

    UnknownException(String what, Throwable cause) {
      super("It cannot be told whether this is as it was: " + what, cause);
      this.what = what;
    }

    private UnknownException within(String place) {
      return new UnknownException(what + " in " + place, getCause());
    }

    String what() {
      return what;
    }
  }

  /** The digest of some objects. */
  static String of(Object... objects) {
    Fingerprint fingerprint = new Fingerprint();
    List<String> parts = new ArrayList<>();
    for (Object object : objects) {
      parts.add(fingerprint.digest(object));
    }
    return hex("all", parts);
  }

  private static String hex(String kind, List<String> parts) {
    Digest digest = new Digest().add(kind).add(Integer.toString(parts.size()));
    parts.forEach(digest::add);
    return digest.hex();
  }

  private String digest(Object object) {
    if (object == null) {
      return "null";
    }
    Class<?> type = object.getClass();
    if (isPlain(object)) {
      return type.getName() + " " + object;
    }
    if (object instanceof Enum<?> value) {
      return value.getDeclaringClass().getName() + " " + value.name();
    }
    if (object instanceof Class<?> named) {
      return "class " + named.getName();
    }
    String before = known.get(object);
    if (before != null) {
      return before;
    }
    known.put(object, "around"); // until it is known: an object that refers back to itself
    String now = parts(object);
    known.put(object, now);
    return now;
  }

  private static boolean isPlain(Object object) {
    return PLAIN.contains(object.getClass())
        || object instanceof Pattern
        || object instanceof Boolean
        || object instanceof Character
        || (object instanceof Number && object.getClass().getName().startsWith("java.lang."))
        || object instanceof OptionalInt
        || object instanceof OptionalLong
        || object instanceof OptionalDouble;
  }

  private String parts(Object object) {
    if (object instanceof CompiledDesign model) {
      return model
          .identity()
          .orElseThrow(() -> new UnknownException("a model that reads files", null));
    }
    if (object instanceof Path path) {
      return files.computeIfAbsent(path, Fingerprint::file);
    }
    if (object instanceof Optional<?> may) {
      return hex("optional", List.of(digest(may.orElse(null))));
    }
    if (object.getClass().isArray()) {
      return array(object);
    }
    if (object instanceof Map<?, ?> map) {
      List<String> entries = new ArrayList<>();
      for (Map.Entry<?, ?> entry : map.entrySet()) {
        entries.add(hex("entry", List.of(digest(entry.getKey()), digest(entry.getValue()))));
      }
      boolean inOrder = map instanceof LinkedHashMap || map instanceof SortedMap;
      return hex("map", inOrder ? entries : sorted(entries));
    }
    if (object instanceof Collection<?> collection) {
      boolean anyOrder =
          collection instanceof Set
              && !(collection instanceof LinkedHashSet || collection instanceof SortedSet);
      List<String> elements = new ArrayList<>();
      for (Object element : collection) {
        elements.add(digest(element));
      }
      return hex(anyOrder ? "set" : "list", anyOrder ? sorted(elements) : elements);
    }
    return fields(object);
  }

  /** A function may read the file as it runs. */
  private static String file(Path path) {
    if (Files.isDirectory(path)) {
      throw new UnknownException("folder " + path, null);
    }
    try {
      Digest digest = new Digest().add(path.toString());
      return (Files.isRegularFile(path) ? digest.addTree(path) : digest).hex();
    } catch (UncheckedIOException e) {
      throw new UnknownException("file " + path + ", which cannot be read,", e);
    }
  }

  private static List<String> sorted(List<String> parts) {
    return parts.stream().sorted().toList();
  }

  private String array(Object array) {
    List<String> elements = new ArrayList<>();
    if (array instanceof long[] words) {
      elements.add(Arrays.toString(words));
    } else {
      for (int i = 0; i < Array.getLength(array); i++) {
        elements.add(digest(Array.get(array, i)));
      }
    }
    return hex("array " + array.getClass().getComponentType().getName(), elements);
  }

  private String fields(Object object) {
    String name = object.getClass().getName();
    if (name.startsWith("java.") || name.startsWith("jdk.") || name.startsWith("sun.")) {
      throw new UnknownException("an object of " + name, null);
    }
    List<String> parts = new ArrayList<>();
    Arrays.stream(object.getClass().getInterfaces()).map(Class::getName).forEach(parts::add);
    for (Class<?> type = object.getClass();
        type != null && type != Object.class;
        type = type.getSuperclass()) {
      List<Field> fields =
          Arrays.stream(type.getDeclaredFields())
              .filter(field -> !Modifier.isStatic(field.getModifiers()))
              .sorted(Comparator.comparing(Field::getName))
              .toList();
      for (Field field : fields) {
        try {
          field.setAccessible(true);
          parts.add(field.getName());
          parts.add(digest(field.get(object)));
        } catch (IllegalAccessException | InaccessibleObjectException e) {
          throw new UnknownException("field " + field.getName() + " of " + name, e);
        } catch (UnknownException e) {
          throw e.within(field.getName() + " of " + name);
        }
      }
    }
    return hex(LAMBDA.matcher(name).replaceAll("a function"), parts);
  }
}
