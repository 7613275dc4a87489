package dev.plumbline.cli;

import dev.plumbline.rtl.RtlSource;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;

/** The annotation of a test class that names its design. */
final class DraftAnnotation {
  private DraftAnnotation() {}

  static String of(String top, RtlSource source) {
    List<String> values = new ArrayList<>();
    values.add("sources = " + array(source.files().stream().map(DraftAnnotation::path).toList()));
    values.add("top = " + quoted(top));
    add(
        values,
        "includeFolders",
        source.includeFolders().stream().map(DraftAnnotation::path).toList());
    add(
        values,
        "libraryFolders",
        source.libraryFolders().stream().map(DraftAnnotation::path).toList());
    add(values, "fileLists", source.fileLists().stream().map(DraftAnnotation::path).toList());
    add(values, "defines", pairs(source.defines()));
    add(values, "parameters", pairs(source.parameters()));
    add(values, "arguments", source.extraArguments());
    return "@DesignUnderTest(\n    " + String.join(",\n    ", values) + ")\n";
  }

  private static List<String> pairs(Map<String, String> map) {
    return map.entrySet().stream().map(e -> e.getKey() + "=" + e.getValue()).toList();
  }

  private static void add(List<String> values, String name, List<String> items) {
    if (!items.isEmpty()) {
      values.add(name + " = " + array(items));
    }
  }

  private static String path(Path path) {
    return path.toString().replace('\\', '/');
  }

  private static String array(List<String> items) {
    String list = items.stream().map(DraftAnnotation::quoted).collect(Collectors.joining(", "));
    return items.size() == 1 ? list : "{" + list + "}";
  }

  private static String quoted(String text) {
    return '"' + text.replace("\\", "\\\\").replace("\"", "\\\"") + '"';
  }
}
