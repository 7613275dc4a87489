package dev.plumbline.rtl;

import java.util.List;

/**
 * A way to read the designs of {@code src/test/rtl}. Each set of rules holds for every such way:
 * the expectations are written from the source and IEEE 1800-2017, never from what a tool printed.
 */
interface Reading {
  Design read(String name);

  default Port port(String design, String name) {
    return read(design).findPort(name).orElseThrow();
  }

  default String parameter(String design, String name) {
    return read(design).parameters().stream()
        .filter(parameter -> parameter.name().equals(name))
        .findFirst()
        .orElseThrow()
        .value();
  }

  /** The element whose path is given below the top module. */
  default StateElement state(String design, String path) {
    return read(design).state().stream()
        .filter(element -> element.path().equals(design + "." + path))
        .findFirst()
        .orElseThrow();
  }

  static String line(SourceLocation location) {
    List<String> parts = List.of(location.file().split("/", -1));
    return parts.get(parts.size() - 1) + ":" + location.line();
  }
}
