package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.PlumblineException;
import dev.plumbline.rtl.Clock;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import dev.plumbline.rtl.PortLayout;
import dev.plumbline.rtl.RtlSource;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Designs that nobody should write: each runs, or is refused or ended by an exception of ours that
 * says where and what. Some in the quality gate, all with {@code -Dplumbline.long=true}.
 */
@Tag("thorough")
class OddDesignsTest {
  private static final Path DESIGNS = Path.of("src/test/resources/odd/designs.txt");
  private static final boolean ALL = Boolean.getBoolean("plumbline.long");
  private static final String ONLY = System.getProperty("plumbline.odd", "");
  private static final int ROWS = 64;
  private static final int LONGEST = 8000;

  @TempDir private Path folder;

  /** A design; the name is what is odd about it. */
  private record Odd(String name, boolean inGate, String text) {
    @Override
    public String toString() {
      return name;
    }
  }

  static Stream<Odd> designs() throws IOException {
    return Arrays.stream(Files.readString(DESIGNS).split("(?m)^==== ", -1))
        .filter(part -> !part.isBlank())
        .map(
            part -> {
              String[] parts = part.split("\n", 2);
              boolean inGate = parts[0].endsWith(" *");
              return new Odd(parts[0].replace(" *", ""), inGate, grown(parts[1]));
            })
        .filter(odd -> ONLY.isEmpty() ? ALL || odd.inGate : odd.name.contains(ONLY));
  }

  /** Fills in what is too long to be written down. */
  private static String grown(String text) {
    String ports =
        IntStream.range(0, 400).mapToObj(i -> ", input p_" + i).collect(Collectors.joining());
    return text.replace("DEEP", "(a + ".repeat(2000) + "a" + ")".repeat(2000))
        .replace("LONG", "x".repeat(100_000))
        .replace("PORTS", ports);
  }

  @ParameterizedTest
  @MethodSource("designs")
  void runsOrIsRefusedInWords(Odd odd) throws IOException {
    Path file = folder.resolve("odd.sv");
    Files.writeString(file, odd.text, StandardCharsets.ISO_8859_1);
    try {
      drive(CompiledDesign.of(RtlSource.of(file)));
    } catch (PlumblineException e) {
      String message = e.getMessage();
      assertTrue(message.length() < LONGEST, message.length() + " characters");
      assertTrue(message.contains("odd"), "names the module or the file: " + message);
      assertTrue(message.lines().findFirst().orElse("").matches(".*[.:]"), message);
    }
  }

  private static void drive(CompiledDesign model) {
    Design design = model.design();
    List<String> clocks = design.clocks().stream().map(Clock::port).toList();
    DutOptions options = DutOptions.defaults().withTimeout(Duration.ofSeconds(3));
    if (!clocks.isEmpty()) {
      options = options.withClocking(Clocking.of(clocks.get(0)));
    }
    SplittableRandom random = new SplittableRandom(3);
    try (Dut dut = model.open(options)) {
      Batch batch = dut.batch(ROWS);
      for (Port port : design.ports()) {
        if (!clocks.contains(port.name()) || clocks.indexOf(port.name()) > 0) {
          columns(batch, port, random);
        }
      }
      dut.run(batch, ROWS);
      dut.cycles(20);
      dut.text();
    }
  }

  private static void columns(Batch batch, Port port, SplittableRandom random) {
    for (String element : PortLayout.elements(port)) {
      for (int word = 0; word < port.words(); word++) {
        long[] column = batch.column(element, word);
        if (port.direction() == Port.Direction.INPUT) {
          int bits = Math.min(Long.SIZE, port.width() - word * Long.SIZE);
          Arrays.setAll(column, row -> random.nextLong() >>> (Long.SIZE - bits));
        }
      }
    }
  }
}
