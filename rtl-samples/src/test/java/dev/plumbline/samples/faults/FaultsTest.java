package dev.plumbline.samples.faults;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.faults.Fault;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.samples.Command;
import dev.plumbline.samples.Lint;
import dev.plumbline.samples.SampleRtl;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

@Execution(ExecutionMode.CONCURRENT)
final class FaultsTest {
  @Test
  void namesAreUniqueAndEveryUnitKindAndStreamIsThere() {
    List<Fault> faults = Faults.all();

    assertEquals(
        faults.size(), faults.stream().map(Fault::name).collect(Collectors.toSet()).size());
    assertEquals(
        EnumSet.allOf(Fault.Shows.class),
        faults.stream().map(Fault::shows).collect(Collectors.toSet()));
    assertEquals(
        EnumSet.allOf(Fault.Kind.class),
        faults.stream().map(Fault::kind).collect(Collectors.toSet()));
    assertEquals(
        Set.of(
            "reciprocal",
            "square_root",
            "box_pipeline",
            "sphere_pipeline",
            "plane_pipeline",
            "sphere_walker",
            "span_combiner",
            "scene_executor"),
        faults.stream().map(Faults::unit).collect(Collectors.toSet()));
  }

  @Test
  void aSampleHasEachUnitKindAndStream() {
    List<Fault> sample = Faults.sample();

    for (Function<Fault, Object> of :
        List.<Function<Fault, Object>>of(Faults::unit, Fault::kind, Fault::shows)) {
      assertEquals(
          Faults.all().stream().map(of).collect(Collectors.toSet()),
          sample.stream().map(of).collect(Collectors.toSet()));
    }
    assertTrue(
        sample.size() <= Faults.all().size() / 7,
        () -> sample.size() + " of " + Faults.all().size());
  }

  static List<Fault> faults() {
    return Faults.chosen();
  }

  /** Every original stands once in its file, whether its copy is linted here or every night. */
  @ParameterizedTest
  @MethodSource("dev.plumbline.samples.faults.Faults#all")
  @Tag("thorough")
  void canBePlanted(Fault fault, @TempDir Path folder) throws IOException {
    new Planting(fault, folder).copy();

    String original = Files.readString(SampleRtl.FOLDER.resolve(fault.file()));
    assertNotEquals(original, Files.readString(folder.resolve(fault.file())));
  }

  @ParameterizedTest
  @MethodSource("faults")
  @Tag("thorough")
  void aPlantedCopyLintsAsCleanAsTheOriginal(Fault fault, @TempDir Path folder) throws IOException {
    RtlSource planted = new Planting(fault, folder).copy();
    for (Path file : SampleRtl.files()) {
      Path copy = folder.resolve(file.getFileName());
      if (Files.notExists(copy)) {
        Files.copy(file, copy);
      }
    }
    List<String> parameters =
        planted.parameters().entrySet().stream()
            .map(parameter -> parameter.getKey() + "=" + parameter.getValue())
            .toList();

    assertEquals(
        new Command.Outcome(0, ""), Lint.run(folder, planted.top(), parameters, "--assert"));
  }
}
