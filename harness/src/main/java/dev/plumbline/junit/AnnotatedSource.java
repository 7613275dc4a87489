package dev.plumbline.junit;

import dev.plumbline.rtl.RtlSource;
import java.nio.file.Path;

/** The source that an annotation names. */
final class AnnotatedSource {
  private AnnotatedSource() {}

  static RtlSource of(DesignUnderTest annotation, Path base) {
    Path[] files = new Path[annotation.sources().length];
    for (int i = 0; i < files.length; i++) {
      files[i] = base.resolve(annotation.sources()[i]);
    }
    RtlSource source = RtlSource.of(files).withTop(annotation.top());
    for (String folder : annotation.includeFolders()) {
      source = source.withIncludeFolder(base.resolve(folder));
    }
    for (String folder : annotation.libraryFolders()) {
      source = source.withLibraryFolder(base.resolve(folder));
    }
    for (String list : annotation.fileLists()) {
      source = source.withFileList(base.resolve(list));
    }
    for (String define : annotation.defines()) {
      int equals = define.indexOf('=');
      source =
          equals < 0
              ? source.withDefine(define, "")
              : source.withDefine(define.substring(0, equals), define.substring(equals + 1));
    }
    for (String parameter : annotation.parameters()) {
      int equals = parameter.indexOf('=');
      if (equals < 1) {
        throw new IllegalArgumentException(
            "Parameter \""
                + parameter
                + "\" of @DesignUnderTest has no value; NAME=VALUE is allowed, such as \"W=32\".");
      }
      source =
          source.withParameter(parameter.substring(0, equals), parameter.substring(equals + 1));
    }
    for (String argument : annotation.arguments()) {
      source = source.withArgument(argument);
    }
    return source;
  }
}
