package dev.plumbline.junit;

import dev.plumbline.rtl.RtlSource;
import dev.plumbline.rtl.SourceOptions;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;

/** The source that an annotation names. */
final class AnnotatedSource {
  private AnnotatedSource() {}

  static RtlSource of(DesignUnderTest annotation, Path base) {
    return new SourceOptions(
            paths(base, annotation.sources()),
            annotation.top(),
            paths(base, annotation.includeFolders()),
            paths(base, annotation.libraryFolders()),
            paths(base, annotation.fileLists()),
            List.of(annotation.defines()),
            List.of(annotation.parameters()),
            List.of(annotation.arguments()))
        .source();
  }

  private static List<Path> paths(Path base, String... names) {
    return Stream.of(names).map(base::resolve).toList();
  }
}
