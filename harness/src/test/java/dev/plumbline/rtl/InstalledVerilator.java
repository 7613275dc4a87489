package dev.plumbline.rtl;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** Whatever Verilator is installed, run for real and read in the form it writes. */
final class InstalledVerilator {
  static final Path RTL = Path.of("src/test/rtl");

  private final Path work;
  private final boolean xml;
  private final Map<String, Design> designs = new HashMap<>();

  record Run(int status, String output) {}

  /** Skips the test where none is installed. */
  InstalledVerilator(Path work) {
    this.work = work;
    boolean present;
    try {
      present = run("--version").status() == 0;
    } catch (UncheckedIOException e) {
      present = false;
    }
    assumeTrue(present, "verilator is not on the PATH");
    xml = run(arguments(source("lens"), "--xml-only")).status() == 0;
  }

  private Run run(String... arguments) {
    List<String> command = new ArrayList<>(List.of("verilator"));
    command.addAll(List.of(arguments));
    try {
      Path output = Files.createTempFile(work, "verilator", ".txt");
      Process process =
          new ProcessBuilder(command)
              .redirectErrorStream(true)
              .redirectOutput(output.toFile())
              .start();
      return new Run(process.waitFor(), Files.readString(output, StandardCharsets.UTF_8));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException(e);
    }
  }

  private String[] arguments(RtlSource source, String... form) {
    List<String> arguments = new ArrayList<>(List.of(form));
    arguments.addAll(
        List.of("--no-timing", "-Wno-fatal", "--prefix", "V", "--Mdir", work.toString()));
    arguments.addAll(source.arguments());
    return arguments.toArray(String[]::new);
  }

  static RtlSource source(String name) {
    Path file = RTL.resolve(name + ".sv");
    return RtlSource.of(Files.exists(file) ? file : RTL.resolve(name + ".v"))
        .withTop(name)
        .withIncludeFolder(RTL.resolve("include"));
  }

  /** Has it describe a source. */
  Run describe(RtlSource source) {
    return run(arguments(source, xml ? "--xml-only" : "--json-only"));
  }

  /** Has it write C++ for a source. */
  Run generate(RtlSource source) {
    return run(arguments(source, "--cc"));
  }

  Design read(RtlSource source) {
    Run run = describe(source);
    assertEquals(0, run.status(), run.output());
    return xml
        ? DesignReader.fromXml(work.resolve("V.xml"), source.parameters())
        : DesignReader.fromJson(
            work.resolve("V.tree.json"), work.resolve("V.tree.meta.json"), source.parameters());
  }

  Design read(String name) {
    return designs.computeIfAbsent(name, it -> read(source(it)));
  }
}
