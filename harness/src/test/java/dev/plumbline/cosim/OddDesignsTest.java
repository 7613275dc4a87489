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
import java.util.regex.Matcher;
import java.util.regex.Pattern;
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
  private static final Path DESIGNS = Path.of("src/test/resources/odd");
  private static final boolean ALL = Boolean.getBoolean("plumbline.long");
  private static final String ONLY = System.getProperty("plumbline.odd", "");
  private static final Pattern REPEATED = Pattern.compile("(?s)@@(\\d+):(.*?)@@");
  private static final Pattern BYTE = Pattern.compile("<([0-9A-F]{2})>");
  private static final int HEXADECIMAL = 16;
  private static final int MEGABYTES = 2048;
  private static final int ROWS = 64;
  private static final int CYCLES = 20;
  private static final Duration TIMEOUT = Duration.ofSeconds(3);
  private static final Duration HUNG = TIMEOUT.multipliedBy(ROWS + CYCLES + 10);
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
    StringBuilder text = new StringBuilder();
    try (Stream<Path> files = Files.list(DESIGNS)) {
      for (Path file : files.sorted().toList()) {
        text.append(Files.readString(file));
      }
    }
    return Arrays.stream(text.toString().split("(?m)^==== ", -1))
        .filter(part -> !part.isBlank())
        .map(
            part -> {
              String[] parts = part.split("\n", 2);
              boolean inGate = parts[0].endsWith(" *");
              return new Odd(parts[0].replace(" *", ""), inGate, grown(parts[1]));
            })
        .filter(odd -> ONLY.isEmpty() ? ALL || odd.inGate : odd.name.contains(ONLY));
  }

  /**
   * Fills in what is too long to be written down, as {@code @@100:x#@@} is x0 to x99 (## is one
   * more), and bytes that are not to be seen, as {@code <0D>}.
   */
  private static String grown(String text) {
    String grown =
        REPEATED
            .matcher(text)
            .replaceAll(
                found ->
                    Matcher.quoteReplacement(
                        IntStream.range(0, Integer.parseInt(found.group(1)))
                            .mapToObj(i -> numbered(found.group(2), i))
                            .collect(Collectors.joining())));
    return BYTE.matcher(grown.replace("<NOEND>\n", ""))
        .replaceAll(
            found ->
                Matcher.quoteReplacement(
                    Character.toString(Integer.parseInt(found.group(1), HEXADECIMAL))));
  }

  private static String numbered(String text, int i) {
    return text.replace("##", String.valueOf(i + 1)).replace("#", String.valueOf(i));
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
    DutOptions options = DutOptions.defaults().withTimeout(TIMEOUT);
    if (!clocks.isEmpty()) {
      options = options.withClocking(Clocking.of(clocks.get(0)));
    }
    SplittableRandom random = new SplittableRandom(3);
    long begin = System.nanoTime();
    try (Dut dut = model.open(options.withMemory(MEGABYTES))) {
      Batch batch = dut.batch(ROWS);
      for (Port port : design.ports()) {
        if (!clocks.contains(port.name()) || clocks.indexOf(port.name()) > 0) {
          columns(batch, port, random);
        }
      }
      dut.run(batch, ROWS);
      dut.cycles(CYCLES);
      dut.text();
    } finally {
      // Each cycle may take the time-out, and no more.
      assertTrue(Duration.ofNanos(System.nanoTime() - begin).compareTo(HUNG) < 0, "it hung");
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
