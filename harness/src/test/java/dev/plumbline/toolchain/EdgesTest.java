package dev.plumbline.toolchain;

import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.rtl.AsyncReset;
import dev.plumbline.rtl.Clock;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import dev.plumbline.rtl.RtlException;
import dev.plumbline.rtl.RtlSource;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * The roles that the reader tells of ports, held to the edges that Verilator's generated code looks
 * for: it keeps the former value of every signal that something waits for.
 */
@Execution(ExecutionMode.CONCURRENT)
class EdgesTest {
  /**
   * How 5.006 looks for an edge of a signal: by its value beside the former one, which the pattern
   * finds behind {@code &} and inverted for a rising edge, plain for a falling one, behind {@code
   * ^} for either. What only changes a level is compared by {@code !=} and is none.
   */
  private static final Pattern EDGE =
      Pattern.compile(
          "([&^]) (\\(~ )?\\(IData\\)\\(vlSelf->__Vtrigrprev__TOP__(?:__SYM__)?(\\w+)\\)");

  private static final Path RTL = Path.of("src/test/rtl");
  private static final Path SAMPLES = Path.of("../rtl-samples/rtl");

  @TempDir private Path work;

  @BeforeAll
  static void theGeneratedCodeIsOfTheVersionThatIsKnown() {
    Assumptions.assumeTrue(Toolchain.find().verilatorVersion().equals("5.006"));
  }

  /** Every file with a module of its own name. */
  static Stream<Path> designs() throws IOException {
    try (Stream<Path> own = Files.walk(RTL);
        Stream<Path> samples = Files.walk(SAMPLES)) {
      return Stream.concat(own, samples)
          .filter(file -> file.toString().matches(".*\\.s?v"))
          .filter(file -> !name(file).endsWith("_types"))
          .sorted()
          .toList()
          .stream();
    }
  }

  private static String name(Path file) {
    return file.getFileName().toString().replaceFirst("\\..*", "");
  }

  /** One in four, since each has Verilator write its C++; all with -Dplumbline.long=true. */
  static List<Path> looked() throws IOException {
    List<Path> all = designs().toList();
    int step = Boolean.getBoolean("plumbline.long") ? 1 : 4;
    return IntStream.range(0, all.size()).filter(i -> i % step == 0).mapToObj(all::get).toList();
  }

  @ParameterizedTest
  @MethodSource("looked")
  @Tag("thorough")
  void everyPortWithAnEdgeHasARoleAndEveryRoleHasAnEdge(Path file) throws IOException {
    RtlSource source =
        RtlSource.of(file)
            .withTop(name(file))
            .withIncludeFolder(RTL.resolve("include"))
            .withIncludeFolder(file.getParent())
            .withLibraryFolder(file.getParent())
            .withArgument("-Wno-MODDUP");
    Path types = file.resolveSibling("chest_types.sv");
    Design design;
    try {
      design = Elaborator.elaborate(source);
    } catch (RtlException e) {
      // Some are there to be refused, and some need a package beside them.
      Assumptions.assumeTrue(Files.exists(types), e.getMessage());
      source = RtlSource.of(types, file).withTop(name(file)).withLibraryFolder(file.getParent());
      design = Elaborator.elaborate(source);
    }
    Set<String> edges = edges(source);
    Set<String> ports =
        design.ports().stream()
            .filter(port -> port.direction() == Port.Direction.INPUT)
            .filter(port -> port.width() == 1 && port.unpacked().isEmpty())
            .map(Port::name)
            .collect(Collectors.toCollection(TreeSet::new));
    Set<String> roles = new TreeSet<>();
    for (Clock clock : design.clocks()) {
      if (clock.edge() != Clock.Edge.FALLING) {
        roles.add(clock.port() + " rising");
      }
      if (clock.edge() != Clock.Edge.RISING) {
        roles.add(clock.port() + " falling");
      }
    }
    for (AsyncReset reset : design.asyncResets()) {
      roles.add(reset.port() + (reset.activeLow() ? " falling" : " rising"));
    }

    Set<String> ofPorts = new TreeSet<>(edges);
    ofPorts.removeIf(edge -> !ports.contains(edge.split(" ", -1)[0]));
    assertTrue(roles.containsAll(ofPorts), () -> "edges " + ofPorts + ", roles " + roles);

    Set<String> inside = new TreeSet<>(edges);
    inside.removeAll(ofPorts);
    Set<String> elsewhere = new TreeSet<>(roles);
    elsewhere.removeAll(ofPorts);
    // A role without an edge of its own acts through a signal inside.
    assertTrue(
        elsewhere.isEmpty() || !inside.isEmpty(),
        () -> "roles without an edge: " + elsewhere + " beside " + edges);
  }

  private Set<String> edges(RtlSource source) throws IOException {
    SourceNames names = Elaborator.names(source, work.resolve("names"));
    Command.Outcome outcome =
        Elaborator.generate(Toolchain.find(), names, BuildOptions.defaults(), work).await();
    // One is good enough to be described, but too much for 5.006 to write as C++.
    Assumptions.assumeTrue(outcome.succeeded(), outcome.output());
    Generated cpp = Generated.in(work.resolve("cc"));
    Set<String> edges = new TreeSet<>();
    for (String file : cpp.sources()) {
      String code = Files.readString(cpp.folder().resolve(file), StandardCharsets.ISO_8859_1);
      Matcher found = EDGE.matcher(code.replaceAll("\\s+", " "));
      while (found.find()) {
        boolean either = found.group(1).equals("^");
        if (either || found.group(2) != null) {
          edges.add(found.group(3) + " rising");
        }
        if (either || found.group(2) == null) {
          edges.add(found.group(3) + " falling");
        }
      }
    }
    return edges;
  }

  @Test
  void thereAreDesignsToLookAt() throws IOException {
    assertTrue(designs().count() > 40);
  }
}
