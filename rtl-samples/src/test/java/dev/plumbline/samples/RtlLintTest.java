package dev.plumbline.samples;

import static org.junit.jupiter.api.Assertions.assertAll;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

@Execution(ExecutionMode.CONCURRENT)
final class RtlLintTest {
  static List<String> modules() throws IOException {
    return SampleRtl.files().stream()
        .map(file -> file.getFileName().toString())
        .filter(name -> name.endsWith(".sv"))
        .map(name -> name.substring(0, name.length() - ".sv".length()))
        .sorted()
        .toList();
  }

  @ParameterizedTest
  @MethodSource("modules")
  void everyModuleLintsCleanWithAndWithoutAssertions(String module) {
    lintsClean(module, "");
  }

  /** A header's parameters are checked at their smallest and their largest. */
  @ParameterizedTest(name = "{0} {1}")
  @CsvSource({
    "reciprocal, W=8 F=0",
    "reciprocal, W=8 F=7",
    "reciprocal, W=32 F=14",
    "reciprocal, W=32 F=0",
    "reciprocal, W=32 F=31",
    "square_root, W=4 F=0 ROUND_NEAREST=1",
    "square_root, W=4 F=3",
    "square_root, W=32 F=14 ROUND_NEAREST=1",
    "square_root, W=64 F=0",
    "square_root, W=64 F=63 ROUND_NEAREST=1",
    "box_pipeline, W=8 F=0 INV_W=8 INV_F=0 MARGIN=0",
    "box_pipeline, W=8 F=7 INV_W=8 INV_F=7 MARGIN=255",
    "box_pipeline, W=32 F=14 INV_W=18 INV_F=16",
    "box_pipeline, W=32 F=31 INV_W=32 INV_F=31 MARGIN=255",
    "box_pipeline, W=8 F=4 INV_W=32 INV_F=0",
    "sphere_walker, W=8 F=0 DW=4 DF=0 GUARD=0",
    "sphere_walker, W=8 F=7 DW=32 DF=31 GUARD=0",
    "sphere_walker, W=32 F=14 DW=16 DF=14",
    "sphere_walker, W=32 DW=32 DF=0 GUARD=0",
    "sphere_walker, W=32 F=31 DW=32 DF=31 GUARD=31",
    "sphere_pipeline, W=8 F=0 DW=8 DF=4",
    "sphere_pipeline, W=8 F=7 DW=32 DF=31",
    "sphere_pipeline, W=32 F=14 DW=16 DF=14",
    "sphere_pipeline, W=32 F=31 DW=32 DF=31",
    "plane_pipeline, W=8 F=0 DW=8 DF=4",
    "plane_pipeline, W=8 F=7 DW=32 DF=31 RW=32 RF=31",
    "plane_pipeline, W=32 F=14 DW=16 DF=14",
    "plane_pipeline, W=32 F=31 DW=32 DF=31",
    "plane_pipeline, W=32 F=0 DW=8 DF=7 RW=8 RF=7",
    "span_combiner, W=8 SURFACE=1 C=1",
    "span_combiner, W=32 SURFACE=16 C=16",
    "span_nearest, W=8 SURFACE=1 C=1",
    "span_nearest, W=32 SURFACE=16 C=16",
    "program_memory, A=1 WIDTH=1",
    "program_memory, A=12",
    "skip_predictor, A=1 P=1",
    "skip_predictor, A=12 P=8",
    "scene_fetch, A=1 P=1",
    "scene_fetch, A=12 P=8",
    "operation_queue, Q=2 WIDTH=1",
    "operation_queue, Q=1024",
    "list_stack, S=1 WIDTH=2 COUNT=1",
    "list_stack, S=16",
    "solid_pipelines, W=10 F=0 DW=8 DF=4 MARGIN=0",
    "solid_pipelines, W=32 F=31 DW=32 DF=31 MARGIN=255",
    "scene_retirement, W=8 C=1 S=1 A=1 MARGIN=0",
    "scene_retirement, W=32 C=16 S=16 A=12 MARGIN=255",
    "scene_context, W=10 DW=8 MARGIN=0 TAG=1 C=1 S=1 A=1 P=1 Q=2",
    "scene_context, W=32 DW=32 MARGIN=255 TAG=32 C=16 S=16 A=12 P=8 Q=1024",
    "scene_contexts, N=1 W=10 F=0 DW=8 DF=4 MARGIN=0 TAG=1 C=1 S=1 A=1 P=1 Q=2",
    "scene_contexts, N=4 W=32 F=31 DW=32 DF=31 MARGIN=255 TAG=32 C=16 S=16 A=12 P=8 Q=1024",
    "scene_executor, W=10 F=0 DW=8 DF=4 MARGIN=0 TAG=1 C=1 S=1 A=1 P=1 Q=2",
    "scene_executor, W=32 F=14 DW=16 DF=14",
    "scene_executor, W=32 F=31 DW=32 DF=31 MARGIN=255 TAG=32 C=16 S=16 A=12 P=8 Q=1024",
    "picture_memory, XW=5 YW=1",
    "picture_converter, XW=5 YW=3",
    "picture_converter, XW=12 YW=12",
    "memory_window, A=1 WIDTH=17",
    "memory_window, A=16 WIDTH=256",
    "host_port, W=10 DW=8 M=1 A=1",
    "host_port, W=32 DW=32 M=8 A=12",
    "ray_sequencer, W=10 F=0 DW=8 DF=4 M=1 A=1 TAG_W=1 NORMALISE=0",
    "ray_sequencer, W=32 F=14 DW=16 DF=14",
    "ray_sequencer, W=32 F=29 DW=32 DF=31 A=12",
    "frame_controller, CONTEXTS=1",
    "frame_controller, CONTEXTS=4",
    "dot_product, A_W=2 B_W=2",
    "round_saturate, IN_W=2 DROP=1 OUT_W=2",
    "round_saturate, IN_W=2 DROP=0 OUT_W=2",
    "delay_line, WIDTH=1 DEPTH=1",
    "split_multiply, A_W=2 B_W=2",
    "split_multiply, A_W=33 B_W=32 SIGNED=1 DROP=31 OUT_W=34",
    "orrery, CONTEXTS=1 XW=5 YW=3 M=1 A=1 P=1 C=1 S=1 Q=2 NORMALISE=0",
    "orrery, CONTEXTS=4 XW=12 YW=12 A=12",
  })
  @Tag("thorough")
  void soDoesEachAtTheEndsOfItsParameters(String module, String parameters) {
    lintsClean(module, parameters);
  }

  private static void lintsClean(String module, String parameters) {
    assertAll(
        Lint.ASSERTIONS.stream()
            .map(option -> Lint.run(SampleRtl.FOLDER, module, words(parameters), option))
            .map(outcome -> () -> assertEquals(new Command.Outcome(0, ""), outcome)));
  }

  @ParameterizedTest(name = "{0} {1}")
  @CsvSource({
    "reciprocal, W=7, W must be 8 to 32",
    "reciprocal, W=33, W must be 8 to 32",
    "reciprocal, W=8 F=8, F must be 0 to W-1",
    "square_root, W=3 F=1, W must be 4 to 64",
    "square_root, W=65, W must be 4 to 64",
    "square_root, F=32, F must be 0 to W-1",
    "square_root, ROUND_NEAREST=2, ROUND_NEAREST must be 0 or 1",
    "box_pipeline, W=7 F=1, W must be 8 to 32",
    "box_pipeline, W=33, W must be 8 to 32",
    "box_pipeline, F=32, F must be 0 to W-1",
    "box_pipeline, INV_W=33, INV_W must be 8 to 32",
    "box_pipeline, INV_W=16, INV_F must be 0 to INV_W-1",
    "box_pipeline, MARGIN=256, MARGIN must be 0 to 255",
    "sphere_walker, W=7 F=1, W must be 8 to 32",
    "sphere_walker, W=33, W must be 8 to 32",
    "sphere_walker, F=32, F must be 0 to W-1",
    "sphere_walker, DW=3 DF=1 GUARD=0, DW must be 4 to 32",
    "sphere_walker, DW=33, DW must be 4 to 32",
    "sphere_walker, DF=18, DF must be 0 to DW-1",
    "sphere_walker, GUARD=17, GUARD must be 0 to DF",
    "sphere_pipeline, W=33, W must be 8 to 32",
    "sphere_pipeline, F=32, F must be 0 to W-1",
    "sphere_pipeline, DW=33, DW must be 8 to 32",
    "sphere_pipeline, DF=3, DF must be 4 to DW-1",
    "sphere_pipeline, DF=18, DF must be 4 to DW-1",
    "plane_pipeline, W=7 F=1, W must be 8 to 32",
    "plane_pipeline, F=32, F must be 0 to W-1",
    "plane_pipeline, DW=7 DF=4, DW must be 8 to 32",
    "plane_pipeline, DF=18, DF must be 4 to DW-1",
    "plane_pipeline, RW=33, RW must be 8 to 32",
    "plane_pipeline, RW=16, RF must be 0 to RW-1 and at most 2 DF",
    "plane_pipeline, DW=8 DF=7, RF must be 0 to RW-1 and at most 2 DF",
    "span_combiner, W=7, W must be 8 to 32",
    "span_combiner, SURFACE=17, SURFACE must be 1 to 16",
    "span_combiner, C=17, C must be 1 to 16",
    "scene_executor, W=33, W must be 10 to 32",
    "scene_executor, F=32, F must be 0 to W-1 and at most 2 DF",
    "scene_executor, DW=33, DW must be 8 to W",
    "scene_executor, DF=18, DF must be 4 to DW-1",
    "scene_executor, MARGIN=256, MARGIN must be 0 to 255",
    "scene_executor, TAG=33, TAG must be 1 to 32",
    "scene_executor, C=17, C must be 1 to 16",
    "scene_executor, S=17, S must be 1 to 16",
    "scene_executor, A=13, A must be 1 to 12",
    "scene_executor, P=9, P must be 1 to 8 and at most A",
    "scene_executor, Q=1, Q must be 2 to 1024",
    "picture_converter, XW=4, XW must be 5 to 12",
    "picture_converter, YW=2, YW must be 3 to 12",
    "host_port, W=33, W must be 10 to 32",
    "host_port, M=9, M must be 1 to 8",
    "memory_window, WIDTH=257, WIDTH must be 17 to 256",
    "ray_inverses, DF=17 F=31, DW-DF must be below W-F",
    "ray_sequencer, NORMALISE=2, NORMALISE must be 0 or 1",
    "frame_controller, CONTEXTS=5, CONTEXTS must be 1 to 4",
    "round_saturate, DROP=64, DROP must be 0 to IN_W-1",
  })
  @Tag("thorough")
  void aParameterOutOfRangeStopsTheLinter(String module, String parameters, String message) {
    Command.Outcome outcome = Lint.run(SampleRtl.FOLDER, module, words(parameters), "--assert");

    assertNotEquals(0, outcome.status());
    assertTrue(outcome.output().contains(module + ": " + message), outcome.output());
  }

  @Test
  void everyModuleOfTheFolderIsLinted() throws IOException {
    assertTrue(modules().containsAll(List.of("reciprocal", "scene_executor", "orrery")));
  }

  /** A misspelt name is no net of one bit; files that are read behind ours have their own rule. */
  @Test
  void noFileImpliesNets() throws IOException {
    List<Path> files = new ArrayList<>(SampleRtl.files());
    try (Stream<Path> benches = Files.list(SampleRtl.FOLDER.resolve("benches"))) {
      benches.forEach(files::add);
    }
    files.removeIf(file -> !file.toString().endsWith(".sv"));
    assertTrue(files.size() > 40, files.toString());
    for (Path file : files) {
      String text = Files.readString(file);
      int first = text.indexOf("\n`");
      assertTrue(text.startsWith("\n`default_nettype none\n", first), file.toString());
      assertTrue(text.endsWith("\n`default_nettype wire\n"), file.toString());
      assertTrue(first < text.indexOf("\nmodule "), file.toString());
    }
  }

  @Test
  void aCarelessWidthIsReported(@TempDir Path folder) throws IOException {
    for (Path file : SampleRtl.files()) {
      Files.copy(file, folder.resolve(file.getFileName()));
    }
    Path changed = folder.resolve("box_pipeline.sv");
    String text = Files.readString(changed);
    String careless = text.replace("ReachW'(entry_s7_q) <= widened_s7", "entry_s7_q <= widened_s7");
    assertNotEquals(text, careless);
    Files.writeString(changed, careless);

    Command.Outcome outcome = Lint.run(folder, "box_pipeline", List.of(), "--assert");

    assertNotEquals(0, outcome.status());
    assertTrue(outcome.output().contains("-WIDTH"), outcome.output());
  }

  private static List<String> words(String text) {
    return text.isEmpty() ? List.of() : List.of(text.split(" "));
  }
}
