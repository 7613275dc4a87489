package dev.plumbline.toolchain;

import dev.plumbline.text.IoText;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * The programs that turn a design into native code, as found on this machine.
 *
 * <pre>{@code
 * Toolchain toolchain = Toolchain.find();
 * toolchain.verilatorVersion();   // "5.006"
 * }</pre>
 *
 * <p>{@code PATH} is searched; the property {@code plumbline.verilator} or the variable {@code
 * PLUMBLINE_VERILATOR} names another Verilator, {@code plumbline.cxx} or {@code PLUMBLINE_CXX}
 * another compiler. The linker mold is used when it is there, else the compiler's own.
 */
public final class Toolchain {
  private final Path verilator;
  private final String verilatorVersion;
  private final Path include;
  private final Path cxx;
  private final String cxxVersion;
  private final Optional<Path> mold;
  private final int random;
  private final String fingerprint;

  private Toolchain(ToolchainSetup.Program verilator, ToolchainSetup.Program cxx) {
    this.verilator = binary(verilator.path().orElseThrow());
    this.verilatorVersion = verilator.version();
    this.include = include(this.verilator);
    this.cxx = cxx.path().orElseThrow();
    this.cxxVersion = cxx.version();
    this.mold = onPath("mold");
    this.random = random(include);
    this.fingerprint =
        new Digest()
            .add(stamp(this.verilator))
            .add(verilatorVersion)
            .add(stamp(include.resolve("verilated.cpp")))
            .add(stamp(include.resolve("verilated.h")))
            .add(stamp(this.cxx))
            .add(cxxVersion)
            .add(mold.map(Toolchain::stamp).orElse("no mold"))
            .hex();
  }

  /**
   * Finds the tool chain; looks once for each Verilator and compiler that is named.
   *
   * @return the tool chain
   * @throws ToolchainException when a program is missing or too old; says which and how to get it
   */
  public static Toolchain find() {
    return Found.LATEST.toolchain();
  }

  /** The latest look and what was named then, so that a test may name another Verilator. */
  private static final class Found {
    private static final Found LATEST = new Found();

    private List<String> named = List.of();
    private Toolchain toolchain;

    private synchronized Toolchain toolchain() {
      List<String> now =
          List.of(
              System.getProperty("plumbline.verilator", ""),
              System.getProperty("plumbline.cxx", ""));
      if (toolchain == null || !named.equals(now)) {
        toolchain = look();
        named = now;
      }
      return toolchain;
    }
  }

  private static Toolchain look() {
    List<ToolchainSetup.Program> programs = ToolchainSetup.look();
    // make is for the stock build alone, which says so itself.
    List<ToolchainSetup.Program> wanted =
        programs.stream().filter(program -> !program.name().equals("make")).toList();
    if (!ToolchainSetup.complete(wanted)) {
      throw new ToolchainException(ToolchainSetup.complaint(programs));
    }
    return new Toolchain(wanted.get(0), wanted.get(1));
  }

  /** The program behind Verilator's Perl wrapper, which takes four times as long to start. */
  private static Path binary(Path verilator) {
    Path sibling = verilator.resolveSibling("verilator_bin");
    return Files.isExecutable(sibling) ? sibling : verilator;
  }

  private static Path include(Path verilator) {
    try {
      Path log = Files.createTempFile("plumbline", ".log");
      try {
        Command.Outcome outcome =
            Command.start(log, List.of(verilator.toString(), "--getenv", "VERILATOR_ROOT")).await();
        Path include = Path.of(outcome.output().strip(), "include");
        if (outcome.succeeded() && Files.isRegularFile(include.resolve("verilated.cpp"))) {
          return include;
        }
        throw new ToolchainException(
            verilator
                + " names "
                + outcome.output().strip()
                + " as its root folder, where there is no include/verilated.cpp; install Verilator"
                + " whole, or set VERILATOR_ROOT");
      } finally {
        Files.deleteIfExists(log);
      }
    } catch (IOException e) {
      throw new ToolchainException(
          "Cannot ask "
              + verilator
              + " for its root folder: "
              + IoText.of(e)
              + "; set VERILATOR_ROOT",
          e);
    }
  }

  private static Optional<Path> onPath(String program) {
    String path = Optional.ofNullable(System.getenv("PATH")).orElse("");
    List<Path> found = new ArrayList<>();
    for (String folder : path.split(java.io.File.pathSeparator, -1)) {
      if (!folder.isEmpty() && Files.isExecutable(Path.of(folder, program))) {
        found.add(Path.of(folder, program));
      }
    }
    return found.stream().findFirst();
  }

  /**
   * Which functions hand out random numbers, since that changed from version to version and cannot
   * be asked in C++.
   */
  private static int random(Path include) {
    try {
      String types = Files.readString(include.resolve("verilated_types.h"));
      if (types.contains("vl_current_rng_rand64")) {
        return 2;
      }
      return types.contains("vl_thread_rng_rand64") ? 1 : 0;
    } catch (IOException e) {
      throw new ToolchainException(
          "Cannot read Verilator's headers in "
              + include
              + ": "
              + IoText.of(e)
              + "; install it whole",
          e);
    }
  }

  /** Changes whenever a file is another: name, size and time, since a compiler is large. */
  private static String stamp(Path file) {
    try {
      Path real = file.toRealPath();
      return real + " " + Files.size(real) + " " + Files.getLastModifiedTime(real);
    } catch (IOException e) {
      throw new ToolchainException(
          "Cannot look at " + file + ": " + IoText.of(e) + "; install it anew", e);
    }
  }

  /**
   * Verilator itself, not its wrapper.
   *
   * @return the program
   */
  public Path verilator() {
    return verilator;
  }

  /**
   * Verilator's version.
   *
   * @return such as 5.006
   */
  public String verilatorVersion() {
    return verilatorVersion;
  }

  /**
   * The compiler.
   *
   * @return the program
   */
  public Path cxx() {
    return cxx;
  }

  /**
   * The compiler's version.
   *
   * @return such as 12
   */
  public String cxxVersion() {
    return cxxVersion;
  }

  /** Verilator's folder of run-time sources and headers. */
  Path include() {
    return include;
  }

  /** The family of random functions: 0 before class VlRNG, 1 with it, 2 with process generators. */
  int random() {
    return random;
  }

  /** The option that chooses the linker, or none. */
  List<String> linker() {
    return mold.isPresent() ? List.of("-fuse-ld=mold") : List.of();
  }

  /** Differs whenever a program or header of the tool chain does. */
  String fingerprint() {
    return fingerprint;
  }

  @Override
  public String toString() {
    return "Verilator "
        + verilatorVersion
        + ", g++ "
        + cxxVersion
        + mold.map(m -> ", mold").orElse("");
  }
}
