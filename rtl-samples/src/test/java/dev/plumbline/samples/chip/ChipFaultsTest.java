package dev.plumbline.samples.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import dev.plumbline.PlumblineException;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.faults.Fault;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.samples.Night;
import dev.plumbline.samples.faults.ChipFaults;
import dev.plumbline.toolchain.BuildOptions;
import java.nio.file.Path;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.function.Consumer;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Faults of the blocks that are driven by hand: what drives them has to see each. */
class ChipFaultsTest {
  /** Stays for the next run, which then finds the builds of copies that are as they were. */
  private static final Path FOLDER = Path.of("target", "planted").toAbsolutePath();

  /** The RTL's own assertions would see some of them first. */
  private static final BuildOptions WITHOUT_ASSERTIONS =
      BuildOptions.defaults().withOptimisation(false).withAssertions(false);

  static List<Fault> faults() {
    return ChipFaults.chosen();
  }

  private static RtlSource rtl(String block) {
    return switch (block) {
      case "picture_converter" -> ChipBlock.rtl(block, "XW=9", "YW=9");
      case "host_port" -> ChipBlock.rtlInBench("host_memories", "A=5");
      case "frame_controller" -> ChipBlock.rtl(block, "CONTEXTS=3");
      default -> ChipBlock.rtl(block);
    };
  }

  private static List<Consumer<CompiledDesign>> checks(String block) {
    return switch (block) {
      case "picture_converter" ->
          List.of(
              model -> ConverterChecks.ditherIsBayers(model, 1),
              model -> ConverterChecks.withoutDitherLevelsAreNearest(model, 2),
              model -> ConverterChecks.paletteColoursAreKept(model, 3),
              model -> ConverterChecks.planesAreThePublishedOnes(model, 4),
              model -> ConverterChecks.everyPixelComesBack(model, 40, 30, 5));
      case "host_port" ->
          List.of(
              model -> HostChecks.registersAreAsDeclared(model, 1),
              model -> HostChecks.onlyWhatIsThereAnswers(model, 2),
              model -> HostChecks.pulsesAndFlags(model, 3),
              model -> HostChecks.busyRefusesAndLosesNothing(model, 4),
              model -> HostChecks.countersAreReadWhole(model, 5),
              model -> HostChecks.settingsReachTheirPorts(model, 6),
              model -> HostChecks.multiplierCorners(model, 7),
              model -> HostChecks.multiplierSums(model, 4, 8),
              model -> HostChecks.memoriesPassMarchC(model, 32, 9));
      case "frame_controller" ->
          List.of(
              model -> FrameChecks.everyPixelIsGivenOnce(model, 3, 8, 12, 1),
              model -> FrameChecks.aFrameIsGivenUp(model, 3, 20, 2),
              model -> FrameChecks.aStartWhileBusyIsTold(model, 3, 3));
      default ->
          List.of(
              model -> SequencerChecks.mirrorsReflect(model, 1),
              model -> SequencerChecks.lightFollowsTheCosine(model, 2),
              model -> SequencerChecks.primaryRaysGoThroughTheirPixels(model, 200, 3),
              model -> SequencerChecks.picturesAreAsInReals(model, 400, 4),
              model -> new SequencerBits(Formats.STANDARD, true, 5).compare(model, 40, 25));
    };
  }

  @ParameterizedTest
  @MethodSource("faults")
  @Tag("thorough")
  void isSeen(Fault fault) {
    assumeTrue(Night.hasTimeForFaults(), "the night's time for planted faults is over");
    String block = ChipFaults.block(fault);
    CompiledDesign model =
        CompiledDesign.of(
            fault.plantedIn(rtl(block), FOLDER.resolve(fault.name())), WITHOUT_ASSERTIONS);

    assertTrue(
        checks(block).stream().anyMatch(check -> fails(check, model)),
        () -> fault + ": " + fault.what());
  }

  @ParameterizedTest
  @ValueSource(strings = {"picture_converter", "host_port", "ray_sequencer", "frame_controller"})
  @Tag("thorough")
  void withoutFaultAllPass(String block) {
    CompiledDesign model = CompiledDesign.of(rtl(block), WITHOUT_ASSERTIONS);

    checks(block).forEach(check -> check.accept(model));
  }

  private static boolean fails(Consumer<CompiledDesign> check, CompiledDesign model) {
    try {
      check.accept(model);
      return false;
    } catch (AssertionError | PlumblineException e) {
      return true;
    }
  }

  @Test
  void eachHasANameOfItsOwn() {
    List<Fault> all = ChipFaults.all();
    Set<String> names = new HashSet<>();
    all.forEach(fault -> names.add(fault.name()));

    assertEquals(all.size(), names.size());
    assertTrue(all.size() >= 25);
  }
}
