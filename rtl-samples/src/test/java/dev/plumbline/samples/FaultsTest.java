package dev.plumbline.samples;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

@Execution(ExecutionMode.CONCURRENT)
final class FaultsTest {
  @Test
  void namesAreUniqueAndEveryKindOfStreamIsNeededBySome() {
    List<Fault> faults = Faults.all();

    assertEquals(
        faults.size(), faults.stream().map(Fault::name).collect(Collectors.toSet()).size());
    assertTrue(faults.size() >= 16, "faults: " + faults.size());
    assertEquals(
        EnumSet.allOf(Fault.Shows.class),
        faults.stream().map(Fault::shows).collect(Collectors.toSet()));
    assertEquals(
        Set.of(
            "reciprocal",
            "square_root",
            "box_pipeline",
            "sphere_pipeline",
            "plane_pipeline",
            "sphere_walker"),
        faults.stream().map(Fault::unit).collect(Collectors.toSet()));
  }

  @ParameterizedTest
  @MethodSource({
    "dev.plumbline.samples.Faults#all",
    "dev.plumbline.samples.SceneFaults#all",
    "dev.plumbline.samples.SpanFaults#all"
  })
  void aPlantedCopyDiffersInOneFileAndLintsClean(Fault fault, @TempDir Path folder)
      throws IOException {
    Path copy = Faults.plantedCopy(fault, folder.resolve("rtl"));

    List<String> changed = new ArrayList<>();
    Set<String> copied = new TreeSet<>();
    for (Path file : SampleRtl.files()) {
      Path planted = copy.resolve(file.getFileName());
      copied.add(file.getFileName().toString());
      if (Files.mismatch(file, planted) >= 0) {
        changed.add(file.getFileName().toString());
      }
    }
    assertEquals(List.of(fault.file()), changed);
    assertTrue(copied.contains(fault.unit() + ".sv"), copied.toString());
    assertEquals(new Command.Outcome(0, ""), Lint.run(copy, fault.unit(), List.of(), "--assert"));
  }

  @Test
  void aFaultWhoseTextIsGoneIsRefused(@TempDir Path folder) {
    Fault gone =
        new Fault("gone", "reciprocal", Fault.Shows.ANY_STREAM, "", "reciprocal.sv", "nowhere", "");

    IllegalStateException refusal =
        assertThrows(IllegalStateException.class, () -> Faults.plantedCopy(gone, folder));

    assertEquals(
        "Planting gone: its original text stands nowhere in reciprocal.sv, and must stand there"
            + " once; follow the change of the RTL in Faults.java.",
        refusal.getMessage());
  }

  @Test
  void aFaultWhoseTextStandsTwiceIsRefused(@TempDir Path folder) {
    Fault twice =
        new Fault("twice", "reciprocal", Fault.Shows.ANY_STREAM, "", "reciprocal.sv", "always", "");

    IllegalStateException refusal =
        assertThrows(IllegalStateException.class, () -> Faults.plantedCopy(twice, folder));

    assertTrue(refusal.getMessage().contains("stands more than once in reciprocal.sv"));
  }
}
