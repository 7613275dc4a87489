package dev.plumbline.samples.speed;

import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import dev.plumbline.rtl.RtlSource;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.regex.Pattern;

/**
 * The same design built the usual way, {@code verilator --cc --exe --build}, with a plain C++ loop
 * around it: what every speed is compared with.
 *
 * <p>The loop gives every data input fresh random bits each cycle, evaluates with the clock low,
 * folds every output into one word, evaluates with the clock high, and checks nothing.
 */
final class StockModel {
  // Verilator's own Makefile compiles with -Os unless set otherwise.
  private static final List<String> OPTIMISED =
      List.of("-MAKEFLAGS", "OPT_FAST=-O3", "-MAKEFLAGS", "OPT_SLOW=-O1");

  private static final List<String> TWO_JOBS = List.of("-j", "2");

  private static final Pattern SPACE = Pattern.compile(" ");

  private final RtlSource source;
  private final Design design;
  private final Path folder;
  private final List<String> behaviour;
  private final Set<String> low;

  StockModel(RtlSource source, Design design, Path folder) {
    this(source, design, folder, List.of("--assert", "--x-assign", "unique"), Set.of());
  }

  private StockModel(
      RtlSource source, Design design, Path folder, List<String> behaviour, Set<String> low) {
    this.source = source;
    this.design = design;
    this.folder = folder;
    this.behaviour = behaviour;
    this.low = low;
  }

  /** The same with other words on assertions and unknowns than Plumbline's benches have. */
  StockModel with(List<String> other) {
    return new StockModel(source, design, folder, other, low);
  }

  /** The same with inputs that the loop leaves at zero. */
  StockModel withLow(Set<String> inputs) {
    return new StockModel(source, design, folder, behaviour, inputs);
  }

  /** Builds the loop as a program; gives the seconds that took. */
  double buildLoop() throws IOException {
    return build("loop", loop(), "-O3", OPTIMISED, TWO_JOBS);
  }

  /** Builds the loop around the C++ that Verilator writes by default, as Plumbline has it. */
  void buildAlike() throws IOException {
    build("alike", loop(), "", OPTIMISED, TWO_JOBS);
  }

  /** Builds with two jobs, and optimised no further; gives the seconds that took. */
  double buildPlain() throws IOException {
    return build("plain", loop(), "", List.of(), TWO_JOBS);
  }

  /** Builds by Verilator's default options; gives the seconds that took. */
  double buildByDefault() throws IOException {
    return build("default", loop(), "", List.of(), List.of());
  }

  /** Builds a library with a call for each signal; gives its file. */
  Path buildCalls() throws IOException {
    build("calls", calls(), "-O3", List.of("-CFLAGS", "-fPIC", "-LDFLAGS", "-shared"), TWO_JOBS);
    return folder.resolve("calls/obj/calls");
  }

  /** Builds a program of one's own around the model, which it calls Vstock. */
  void build(String name, String code) throws IOException {
    build(name, code.replace("Vstock", prefix()), "-O3", OPTIMISED, TWO_JOBS);
  }

  /** Runs a program that was built; gives the words that it printed. */
  String[] run(String name, String... arguments) throws IOException {
    List<String> words = new ArrayList<>(List.of(folder.resolve(name + "/obj/" + name).toString()));
    words.addAll(List.of(arguments));
    return SPACE.split(command(words).strip());
  }

  /** Runs the loop; gives cycles a second, as the program timed itself. */
  double run(long cycles) throws IOException {
    return cycles / Double.parseDouble(words(cycles)[0]);
  }

  /** The same, in seconds of processor time. */
  double runOnProcessorTime(long cycles) throws IOException {
    String[] words = words(cycles);
    return cycles / Double.parseDouble(words[1]);
  }

  /** The same of the loop that {@link #buildAlike} built. */
  double runAlike(long cycles) throws IOException {
    return cycles / Double.parseDouble(run("alike", Long.toString(cycles))[1]);
  }

  /** Puts a copy of a program in its place, which has other pages of memory. */
  void move(String name) throws IOException {
    Path program = folder.resolve(name + "/obj/" + name);
    Path copy = program.resolveSibling(name + ".moved");
    Files.copy(program, copy, StandardCopyOption.COPY_ATTRIBUTES);
    Files.move(copy, program, StandardCopyOption.ATOMIC_MOVE);
  }

  private String[] words(long cycles) throws IOException {
    return run("loop", Long.toString(cycles));
  }

  private double build(
      String name, String code, String optimise, List<String> more, List<String> jobs)
      throws IOException {
    Path place = Files.createDirectories(folder.resolve(name));
    Files.writeString(place.resolve("main.cpp"), code);
    List<String> words = new ArrayList<>(List.of("verilator", "--cc", "--exe", "--build"));
    words.addAll(jobs);
    if (!optimise.isEmpty()) {
      words.add(optimise);
    }
    words.addAll(List.of("--prefix", prefix(), "--top-module", design.top()));
    words.addAll(behaviour);
    words.addAll(List.of("-Wno-fatal", "--no-timing"));
    // Without it 5.006 writes C++ of the whole chip that does not compile.
    words.addAll(List.of("--reloop-limit", "1000000000"));
    words.addAll(List.of("--Mdir", place.resolve("obj").toString(), "-o", name));
    source.includeFolders().forEach(include -> words.add("-I" + include));
    source.parameters().forEach((key, value) -> words.add("-G" + key + "=" + value));
    words.addAll(more);
    source.files().forEach(file -> words.add(file.toString()));
    words.add(place.resolve("main.cpp").toString());
    long start = System.nanoTime();
    command(words);
    return (System.nanoTime() - start) / 1e9;
  }

  /** A class name of its own for each design: weak symbols of one name are shared by the JVM. */
  private String prefix() {
    return "Vstock_" + design.top();
  }

  private String loop() {
    StringBuilder drive = new StringBuilder();
    StringBuilder wide = new StringBuilder();
    for (Port port : design.ports()) {
      if (isData(port) && !low.contains(port.name())) {
        if (port.width() <= Long.SIZE) {
          drive.append("    top->" + port.name() + " = next() & " + hex(mask(port)) + ";\n");
        } else {
          drive.append(driveWide(port));
        }
      } else if (port.direction() == Port.Direction.OUTPUT && port.width() > Long.SIZE) {
        wide.append(foldWide(port));
      }
    }
    return String.format(
            Locale.ROOT,
            """
            #include "Vstock.h"
            #include "verilated.h"
            #include <chrono>
            #include <cstdint>
            #include <cstdio>
            #include <cstdlib>
            #include <ctime>

            static uint64_t state = 88172645463325252ULL;  // xorshift, G. Marsaglia 2003
            static inline uint64_t next() {
              state ^= state << 13;
              state ^= state >> 7;
              state ^= state << 17;
              return state;
            }
            double sc_time_stamp() { return 0; }

            int main(int, char** argv) {
              const uint64_t cycles = std::strtoull(argv[1], nullptr, 10);
              VerilatedContext* context = new VerilatedContext;
              Vstock* top = new Vstock{context};
              uint64_t sum = 0;
              %s
              for (int i = 0; i < 8; ++i) {
                top->clk = 0;
                top->eval();
                top->clk = 1;
                top->eval();
              }
              %s
              const std::clock_t used = std::clock();
              const auto start = std::chrono::steady_clock::now();
              for (uint64_t i = 0; i < cycles; ++i) {
            %s    top->clk = 0;
                top->eval();
            %s    top->clk = 1;
                top->eval();
              }
              const std::chrono::duration<double> time = std::chrono::steady_clock::now() - start;
              const double processor = static_cast<double>(std::clock() - used) / CLOCKS_PER_SEC;
              std::printf("%%.9f %%.9f %%llu\\n", time.count(), processor,
                          static_cast<unsigned long long>(sum));
              return 0;
            }
            """,
            reset(1),
            reset(0),
            drive,
            fold() + wide)
        .replace("Vstock", prefix());
  }

  /** Verilator has wide ports as arrays of 32-bit words, whose topmost bits have to be zero. */
  private static String driveWide(Port port) {
    StringBuilder code = new StringBuilder();
    for (int bit = 0; bit < port.width(); bit += Integer.SIZE) {
      int bits = Math.min(Integer.SIZE, port.width() - bit);
      String place = "[" + bit / Integer.SIZE + "]";
      code.append("    top->" + port.name() + place + " = next() & " + hex((1L << bits) - 1));
      code.append(";\n");
    }
    return code.toString();
  }

  private static String foldWide(Port port) {
    StringBuilder code = new StringBuilder();
    for (int word = 0; word * Integer.SIZE < port.width(); word++) {
      code.append("    sum = sum * 31 + top->" + port.name() + "[" + word + "];\n");
    }
    return code.toString();
  }

  private static String hex(long mask) {
    return "0x" + Long.toHexString(mask) + "ULL";
  }

  /** Folds every output of up to 64 bits into a sum. */
  String fold() {
    StringBuilder fold = new StringBuilder();
    for (Port port : design.ports()) {
      if (port.direction() == Port.Direction.OUTPUT && port.width() <= Long.SIZE) {
        fold.append("    sum = sum * 31 + static_cast<uint64_t>(top->" + port.name() + ");\n");
      }
    }
    return fold.toString();
  }

  /** Nothing where the design has no reset. */
  private String reset(int value) {
    boolean has = design.ports().stream().anyMatch(port -> port.name().equals("rst"));
    return has ? "top->rst = " + value + ";" : "";
  }

  private String calls() {
    StringBuilder poke = new StringBuilder();
    StringBuilder peek = new StringBuilder();
    for (int i = 0; i < design.ports().size(); i++) {
      String name = design.ports().get(i).name();
      boolean output = design.ports().get(i).direction() == Port.Direction.OUTPUT;
      (output ? peek : poke)
          .append(
              output
                  ? "    case " + i + ": return top->" + name + ";\n"
                  : "    case " + i + ": top->" + name + " = value; break;\n");
    }
    return String.format(
            Locale.ROOT,
            """
            #include "Vstock.h"
            #include "verilated.h"
            double sc_time_stamp() { return 0; }
            extern "C" {
            void* signals_open() { return new Vstock{new VerilatedContext}; }
            void signals_set(void* model, int port, long value) {
              Vstock* top = static_cast<Vstock*>(model);
              switch (port) {
            %s    default: break;
              }
            }
            long signals_get(void* model, int port) {
              Vstock* top = static_cast<Vstock*>(model);
              switch (port) {
            %s    default: return 0;
              }
            }
            void signals_settle(void* model) { static_cast<Vstock*>(model)->eval(); }
            }
            """,
            poke,
            peek)
        .replace("Vstock", prefix());
  }

  static boolean isData(Port port) {
    return port.direction() == Port.Direction.INPUT
        && !port.name().equals("clk")
        && !port.name().equals("rst");
  }

  static long mask(Port port) {
    return port.width() == 64 ? -1 : (1L << port.width()) - 1;
  }

  static String command(List<String> words) throws IOException {
    Process process = new ProcessBuilder(words).redirectErrorStream(true).start();
    process.getOutputStream().close();
    String output = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    try {
      if (process.waitFor() != 0) {
        throw new IOException(
            String.format(Locale.ROOT, "\"%s\" failed:%n%s", String.join(" ", words), output));
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IOException("interrupted while waiting for " + words.get(0), e);
    }
    return output;
  }
}
