package dev.plumbline.fuzz;

import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.fail;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.MemoryFile;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.program.WordLayout;
import dev.plumbline.models.scene.Scene;
import dev.plumbline.models.text.TextException;
import dev.plumbline.rtl.DesignReader;
import dev.plumbline.rtl.RtlException;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.rtl.VerilatorMessages;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Whatever a reader is given, it gives a value or the error it declares.
 *
 * <p>A few hundred spoilt texts a reader in the gate; {@code -Dplumbline.fuzz=1000000} makes it as
 * many as that, {@code -Dplumbline.fuzz.seed=} begins at another seed. A failure names its seed.
 */
@Execution(ExecutionMode.CONCURRENT)
class ReadersTest {
  private static final int COUNT = Integer.getInteger("plumbline.fuzz", 300);
  private static final long FIRST = Long.getLong("plumbline.fuzz.seed", 1L);
  private static final int LONGEST_MESSAGE = 8000;
  private static final Path RECORDED = Path.of("src/test/resources/recorded");
  private static final Path SCENES = Path.of("../rtl-samples/scenes");

  @TempDir private static Path folder;

  private interface Read {
    void read(String text, Path file) throws IOException;
  }

  /**
   * A reader.
   *
   * @param declared the error it declares, or null for none
   * @param texts what is spoilt for it, the shortest first
   */
  private record Reader(
      String name, Class<? extends RuntimeException> declared, List<String> texts, Read read) {
    @Override
    public String toString() {
      return name;
    }
  }

  static Stream<Reader> readers() {
    return Stream.of(
        new Reader("XML", RtlException.class, files(RECORDED, ".*\\.xml"), ReadersTest::xml),
        new Reader(
            "JSON",
            RtlException.class,
            files(RECORDED.resolve("5.048"), ".*tree\\.json"),
            ReadersTest::json),
        new Reader(
            "FILE_LIST",
            RtlException.class,
            files(RECORDED, ".*meta\\.json"),
            ReadersTest::fileList),
        new Reader("MESSAGES", null, files(RECORDED, ".*\\.txt"), (text, file) -> messages(text)),
        new Reader(
            "LITERAL",
            RtlException.class,
            List.of("-8'sd100", "\"mid\\tday $x\"", "-16 ' h_f_f", "32'h45464748", "-1'b1"),
            (text, file) -> RtlSource.of().withParameter("P", text).arguments()),
        new Reader(
            "SCENE",
            TextException.class,
            files(SCENES, ".*\\.scene"),
            (text, file) -> Scene.parse(text)),
        new Reader(
            "LAYOUT",
            TextException.class,
            List.of(WordLayout.standard(formats()).toString()),
            (text, file) -> WordLayout.parse(text)),
        new Reader(
            "MEMORY",
            IllegalArgumentException.class,
            List.of("// words\n@0 0123 4_5\n/* and\n more */ ffff\n@a 1\n"),
            (text, file) -> MemoryFile.read(text, 16, 32)));
  }

  private static SceneFormats formats() {
    return new SceneFormats(Format.signed(16, 16), Format.signed(2, 16), Format.signed(16, 16));
  }

  /** Smaller ones first. */
  private static List<String> files(Path root, String names) {
    try (Stream<Path> files = Files.walk(root)) {
      return files
          .filter(file -> file.getFileName().toString().matches(names))
          .sorted()
          .map(ReadersTest::text)
          .sorted(Comparator.comparingInt(String::length))
          .toList();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static String text(Path file) {
    try {
      return Files.readString(file, StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static void xml(String text, Path file) throws IOException {
    Files.write(file, text.getBytes(StandardCharsets.UTF_8));
    DesignReader.fromXml(file, Map.of());
  }

  private static void json(String text, Path file) throws IOException {
    Files.write(file, text.getBytes(StandardCharsets.UTF_8));
    DesignReader.fromJson(file, RECORDED.resolve("5.048/lens.tree.meta.json"), Map.of());
  }

  private static void fileList(String text, Path file) throws IOException {
    Files.write(file, text.getBytes(StandardCharsets.UTF_8));
    DesignReader.fromJson(RECORDED.resolve("5.048/lens.tree.json"), file, Map.of());
  }

  private static void messages(String text) {
    VerilatorMessages.all(text);
    VerilatorMessages.errors(text);
  }

  private static void check(Reader reader, String text, Path file, String what) {
    try {
      reader.read.read(text, file);
    } catch (RuntimeException | Error | IOException e) {
      if (reader.declared == null || !reader.declared.isInstance(e)) {
        fail(reader + ", " + what + ": " + e, e);
      }
      if (String.valueOf(e.getMessage()).length() > LONGEST_MESSAGE) {
        fail(reader + ", " + what + ": a message of " + e.getMessage().length() + " characters");
      }
    }
  }

  @ParameterizedTest
  @MethodSource("readers")
  void aSpoiltTextGivesAValueOrTheDeclaredError(Reader reader) {
    Path file = folder.resolve(reader.name);
    for (long seed = FIRST; seed < FIRST + COUNT; seed++) {
      // Two of three of the smallest few, since they are the quickest.
      int some = seed % 3 == 0 ? reader.texts.size() : Math.min(4, reader.texts.size());
      String text = reader.texts.get((int) (seed / 3 % some));
      check(reader, Mutations.of(text, seed), file, "seed " + seed);
    }
  }

  @ParameterizedTest
  @MethodSource("readers")
  void anythingDeepGivesTheDeclaredError(Reader reader) {
    for (String bracket :
        List.of("[", "{", "(", "<a>", "part take ", "/*", "\"a\":[", "%Error: ")) {
      check(reader, bracket.repeat(20_000), folder.resolve(reader + ".deep"), bracket);
    }
    check(reader, "", folder.resolve(reader + ".deep"), "nothing");
  }

  /** The chain of types is legal, only longer than any design has; the ring is not. */
  @Test
  void typesThatNestFarOrContainThemselvesAreRefused() throws IOException {
    StringBuilder types = new StringBuilder();
    for (int i = 2; i < 3002; i++) {
      types.append("<refdtype id=\"%d\" name=\"t\" sub_dtype_id=\"%d\"/>".formatted(i, i + 1));
    }
    for (String last :
        List.of(
            "<basicdtype id=\"3002\" name=\"logic\"/>",
            "<refdtype id=\"3002\" name=\"t\" sub_dtype_id=\"2\"/>",
            "<unpackarraydtype id=\"3002\" sub_dtype_id=\"3002\"/>")) {
      Path file =
          Files.writeString(
              Files.createTempFile(folder, "types", ".xml"),
              "<?xml version=\"1.0\" ?><verilator_xml><netlist><module name=\"m\""
                  + " topModule=\"1\"><var name=\"a\" dir=\"input\" dtype_id=\"2\"/></module>"
                  + "<typetable>"
                  + types
                  + last
                  + "</typetable></netlist></verilator_xml>");

      assertThrows(RtlException.class, () -> DesignReader.fromXml(file, Map.of()));
    }
  }
}
