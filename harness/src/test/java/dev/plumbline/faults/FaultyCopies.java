package dev.plumbline.faults;

import dev.plumbline.check.Bench;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.cosim.DutOptions;
import dev.plumbline.cosim.InitialState;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.toolchain.Elaborator;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.params.provider.Arguments;

/**
 * Many faults of one module for the price of one build: a copy of the module for each, behind the
 * ports of the original, and a plusarg that says whose outputs are shown.
 *
 * <pre>{@code
 * FaultyCopies copies = new FaultyCopies(Path.of("src/test/rtl/foreign/ratio.v"));
 * List<String> negated = List.of("<= limited;", "<= -limited;");
 * copies.add(negated);
 * copies.bench(negated).contract(contract).run();
 * }</pre>
 *
 * <p>The file holds one module, with its ports declared in its head, and no port of it is an array.
 */
public final class FaultyCopies {
  private final Path file;
  private final List<List<String>> faults = new ArrayList<>();
  private CompiledDesign design;

  /**
   * Takes the right RTL.
   *
   * @param file where it stands
   */
  public FaultyCopies(Path file) {
    this.file = file;
  }

  /**
   * Copies with the faults of a parameterised test.
   *
   * @param file the right RTL
   * @param faults the arguments of each case
   * @param texts at which place of the arguments the list of texts stands
   * @return the copies
   */
  public static FaultyCopies of(Path file, Stream<Arguments> faults, int texts) {
    FaultyCopies copies = new FaultyCopies(file);
    faults.forEach(fault -> copies.add(texts(fault.get()[texts])));
    return copies;
  }

  private static List<String> texts(Object argument) {
    return ((List<?>) argument).stream().map(String.class::cast).toList();
  }

  /**
   * Adds a fault; all are added before the first bench.
   *
   * @param texts pairs of texts: what stands in the file once, what is put in its place
   * @return this
   */
  public FaultyCopies add(List<String> texts) {
    faults.add(texts);
    return this;
  }

  /**
   * Adds a fault of one change.
   *
   * @param was what stands in the file once
   * @param is what is put in its place
   * @return this
   */
  public FaultyCopies add(String was, String is) {
    return add(List.of(was, is));
  }

  /**
   * A bench on one of the copies.
   *
   * @param texts the fault as it was added
   * @return a builder as for the module itself
   */
  public Bench.Builder bench(List<String> texts) {
    int copy = faults.indexOf(texts);
    if (copy < 0) {
      throw new IllegalStateException("No copy has the fault " + texts);
    }
    return Bench.of(design()).options(DutOptions.defaults().withPlusargs("copy=" + copy));
  }

  /**
   * One of the copies, to be driven by hand.
   *
   * @param texts the fault as it was added
   * @return a DUT, to be closed
   */
  public Dut open(List<String> texts) {
    return design()
        .open(
            DutOptions.defaults()
                .withInitialState(InitialState.RANDOM)
                .withPlusargs("copy=" + faults.indexOf(texts)));
  }

  private synchronized CompiledDesign design() {
    if (design == null) {
      try {
        // Below the build's folder: evidence may name the file after the tests are over.
        Path folder =
            Files.createTempDirectory(Files.createDirectories(Path.of("target")), "copies");
        Path all = folder.resolve(file.getFileName().toString());
        Files.writeString(all, text(folder));
        design =
            CompiledDesign.of(RtlSource.of(all), BuildOptions.defaults().withOptimisation(false));
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    }
    return design;
  }

  private String text(Path folder) throws IOException {
    String right = Files.readString(file);
    Design ports = Elaborator.elaborate(RtlSource.of(file));
    Pattern module = Pattern.compile("(?s)\\bmodule\\s+" + ports.top() + "\\b.*?\\);\n");
    Matcher head = module.matcher(right);
    if (!head.find()) {
      throw new IllegalStateException(file + " has no head of module " + ports.top());
    }
    List<Port> outputs =
        ports.ports().stream().filter(p -> p.direction() == Port.Direction.OUTPUT).toList();

    StringBuilder text = new StringBuilder();
    for (int copy = 0; copy < faults.size(); copy++) {
      text.append(
          planted(copy, folder).replaceAll("\\b" + ports.top() + "\\b", ports.top() + copy));
    }
    text.append(head.group());
    text.append("  integer copy;\n  initial if (!$value$plusargs(\"copy=%d\", copy)) $stop;\n");
    for (Port port : outputs) {
      String wires = numbered(port.name());
      text.append("  wire [" + (port.width() - 1) + ":0] " + wires + ";\n");
      text.append("  wire [" + (port.width() - 1) + ":0] copies_" + port.name());
      text.append(" [0:" + (faults.size() - 1) + "];\n");
      for (int copy = 0; copy < faults.size(); copy++) {
        text.append(
            "  assign copies_" + port.name() + "[" + copy + "] = " + port.name() + copy + ";\n");
      }
      text.append("  assign " + port.name() + " = copies_" + port.name() + "[copy];\n");
    }
    for (int copy = 0; copy < faults.size(); copy++) {
      int number = copy;
      text.append("  " + ports.top() + copy + " copy_" + copy + " (");
      text.append(
          ports.ports().stream()
              .map(
                  p ->
                      "."
                          + p.name()
                          + "("
                          + (outputs.contains(p) ? p.name() + number : shown(p, number))
                          + ")")
              .collect(Collectors.joining(", ")));
      text.append(");\n");
    }
    return text.append("endmodule\n").toString();
  }

  /** Copies that are not shown stand still, clock and all: their cycles would cost as much. */
  private static String shown(Port input, int copy) {
    return "copy == " + copy + " ? " + input.name() + " : '0";
  }

  private String numbered(String name) {
    List<String> all = new ArrayList<>();
    for (int copy = 0; copy < faults.size(); copy++) {
      all.add(name + copy);
    }
    return String.join(", ", all);
  }

  private String planted(int copy, Path folder) throws IOException {
    Path into = folder.resolve("copy" + copy);
    return Files.readString(
        fault(file, faults.get(copy)).plantedIn(RtlSource.of(file), into).files().get(0));
  }

  /**
   * The fault that pairs of texts make.
   *
   * @param file where they are changed
   * @param texts what stands in the file once, what is put in its place, and so on
   * @return the fault, named after the file
   */
  public static Fault fault(Path file, List<String> texts) {
    String name = file.getFileName().toString();
    Fault fault = Fault.of(name, name, texts.get(0), texts.get(1));
    for (int i = 2; i < texts.size(); i += 2) {
      fault = fault.and(texts.get(i), texts.get(i + 1));
    }
    return fault;
  }
}
