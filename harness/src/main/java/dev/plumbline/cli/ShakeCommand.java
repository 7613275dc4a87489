package dev.plumbline.cli;

import dev.plumbline.cosim.Clocking;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.cosim.DutOptions;
import dev.plumbline.cosim.InitialState;
import dev.plumbline.rtl.Clock;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import dev.plumbline.rtl.Port.Direction;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.stimulus.SeedText;
import dev.plumbline.text.PlainText;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.toolchain.BuildOptions.Optimisation;
import dev.plumbline.toolchain.BuildOptions.Unknowns;
import dev.plumbline.toolchain.Elaborator;
import java.io.PrintWriter;
import java.time.Duration;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.ITypeConverter;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;
import picocli.CommandLine.TypeConversionException;

/** {@code plumbline shake}: random inputs for any design, and a digest of what came out. */
@Command(
    name = "shake",
    description = "Drives a design with seeded random inputs and prints a digest of its outputs.",
    footer = {
      "",
      "The last line on standard output is \"digest <16 hex digits> cycles <N>\". The digest is",
      "defined so that any other bench can arrive at it:",
      "- Initial state and x assignments are zero.",
      "- Each cycle the inputs in the order of the port list, without the clock and the --reset",
      "  port, take ceil(width/64) words each from SplitMix64 seeded with S, least significant"
          + " word",
      "  first, masked to the width; arrays by ascending index.",
      "- The inputs are applied and settle with the clock low; outputs and inouts (which are not",
      "  driven) are sampled; the clock rises. Without a clock: one evaluation a row.",
      "- What is sampled is folded in port order, word by word, zero-extended, into 64-bit FNV-1a",
      "  over the word's 8 bytes, little end first.",
      "- The --reset port is asserted for the first 8 cycles and released after; they count.",
      "- $finish ends the run after that cycle. Any other end gives exit status 3 and no digest."
    })
final class ShakeCommand implements Callable<Integer> {
  /** Cycles that are worth a fast model. */
  private static final long LONG = 2_000_000;

  @Spec private CommandSpec spec;

  @Mixin private DesignOptions options;

  @Option(
      names = "--clock",
      paramLabel = "NAME",
      description = "The clock, where the design has several; the others are ordinary inputs.")
  private String clock = "";

  @Option(
      names = "--reset",
      paramLabel = "NAME[:low]",
      description = "The reset; with \":low\" it is active low.")
  private String reset = "";

  @Option(
      names = "--cycles",
      required = true,
      paramLabel = "N",
      description = "How many cycles to run, 0 or more.")
  private long cycles;

  @Option(
      names = "--seed",
      required = true,
      paramLabel = "S",
      converter = Seed.class,
      description = "The seed: 64 bits, decimal or 0x and hexadecimal.")
  private long seed;

  @Option(
      names = "--assert",
      description = "Check assertions, which are off otherwise: random inputs break assumptions.")
  private boolean assertions;

  /** Reads a seed as every door of Plumbline does. */
  private static final class Seed implements ITypeConverter<Long> {
    @Override
    public Long convert(String text) {
      try {
        return SeedText.parse(text);
      } catch (IllegalArgumentException e) {
        throw new TypeConversionException(e.getMessage());
      }
    }
  }

  @Override
  public Integer call() {
    if (cycles < 0) {
      throw wrong("--cycles " + cycles + ": a run has 0 cycles or more");
    }
    RtlSource source = options.source();
    // A build may take minutes, and what is wrong with the pins is known without it.
    pins(Elaborator.elaborate(source));
    CompiledDesign model =
        CompiledDesign.of(source, speedy().withAssertions(assertions).withUnknowns(Unknowns.ZERO));
    Design design = model.design();
    Shake.Pins pins = pins(design);
    PrintWriter out = spec.commandLine().getOut();
    Clocking clocking = pins.clock().isEmpty() ? Clocking.none() : Clocking.of(pins.clock());
    DutOptions start =
        DutOptions.defaults().withInitialState(InitialState.ZEROS).withClocking(clocking);
    try (Dut dut = model.open(start)) {
      try {
        Shake shake = new Shake(dut, pins, seed);
        Duration used = processorTime();
        long begin = System.nanoTime();
        shake.run(cycles);
        double seconds = (System.nanoTime() - begin) / 1e9;
        used = processorTime().minus(used);
        out.println(heading(design, pins));
        out.printf(
            Locale.ROOT,
            "%.3f s, %.0f cycles a second; %.2f s of processor time%n",
            seconds,
            shake.cycles() / seconds,
            used.toMillis() / 1e3);
        out.printf(Locale.ROOT, "digest %016x cycles %d%n", shake.digest(), shake.cycles());
        out.flush();
      } finally {
        printText(dut.text());
      }
    }
    return 0;
  }

  /** A run is one long life, in which nothing can take over. */
  private BuildOptions speedy() {
    BuildOptions usual = BuildOptions.defaults();
    return cycles >= LONG && usual.optimisation() == Optimisation.LATER
        ? usual.withOptimisation(Optimisation.FIRST)
        : usual;
  }

  private Shake.Pins pins(Design design) {
    boolean low = reset.endsWith(":low");
    String resetPort = low ? reset.substring(0, reset.length() - ":low".length()) : reset;
    if (!resetPort.isEmpty()) {
      requireBit(design, "--reset", resetPort);
    }
    String clockPort = clock;
    if (!clockPort.isEmpty()) {
      requireBit(design, "--clock", clockPort);
    } else {
      List<String> clocks =
          design.clocks().stream().map(Clock::port).filter(c -> !c.equals(resetPort)).toList();
      if (clocks.size() > 1) {
        throw wrong(
            "module \""
                + design.top()
                + "\" has several clocks; choose one with --clock: "
                + String.join(", ", clocks));
      }
      clockPort = clocks.isEmpty() ? "" : clocks.get(0);
    }
    if (!clockPort.isEmpty() && clockPort.equals(resetPort)) {
      throw wrong("port \"" + clockPort + "\" cannot be the clock and the reset");
    }
    return new Shake.Pins(clockPort, resetPort, low);
  }

  private void requireBit(Design design, String option, String name) {
    boolean bit =
        design
            .findPort(name)
            .filter(p -> p.direction() == Direction.INPUT)
            .filter(p -> p.width() == 1 && p.unpacked().isEmpty())
            .isPresent();
    if (!bit) {
      List<String> bits =
          design.ports().stream()
              .filter(p -> p.direction() == Direction.INPUT)
              .filter(p -> p.width() == 1 && p.unpacked().isEmpty())
              .map(Port::name)
              .toList();
      throw wrong(
          option
              + " "
              + name
              + ": module \""
              + design.top()
              + "\" has no one-bit input of that name; it has: "
              + (bits.isEmpty() ? "none" : String.join(", ", bits)));
    }
  }

  private static String heading(Design design, Shake.Pins pins) {
    StringBuilder text = new StringBuilder("module " + design.top());
    text.append(pins.clock().isEmpty() ? ", no clock" : ", clock " + pins.clock());
    if (!pins.reset().isEmpty()) {
      text.append(", reset ").append(pins.reset());
      text.append(pins.resetActiveLow() ? " (active low)" : " (active high)");
    }
    return text.toString();
  }

  /** Of all threads of this process; none where the system does not tell it. */
  private static Duration processorTime() {
    return ProcessHandle.current().info().totalCpuDuration().orElse(Duration.ZERO);
  }

  private void printText(String text) {
    if (!text.isEmpty()) {
      PrintWriter err = spec.commandLine().getErr();
      err.print(PlainText.lines(text));
      err.flush();
    }
  }

  private ParameterException wrong(String message) {
    return new ParameterException(spec.commandLine(), message);
  }
}
