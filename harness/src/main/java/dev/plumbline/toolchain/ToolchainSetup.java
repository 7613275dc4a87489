package dev.plumbline.toolchain;

import java.io.File;
import java.io.IOException;
import java.math.BigInteger;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.UnaryOperator;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Finds Verilator, a C++ compiler and make, and installs what is missing where it may.
 *
 * <p>The build runs this file by itself before anything is compiled, so it uses JDK classes only:
 *
 * <pre>{@code
 * java harness/src/main/java/dev/plumbline/toolchain/ToolchainSetup.java
 * }</pre>
 *
 * <p>{@code PATH} is searched; {@code -Dplumbline.verilator} or {@code PLUMBLINE_VERILATOR} names
 * another Verilator, {@code -Dplumbline.cxx} or {@code PLUMBLINE_CXX} another compiler. On a
 * Debian-family system, as root, missing programs are installed with apt unless {@code
 * -Dplumbline.install=false}. The exit status is 0 when all is there, else 1 with one message.
 */
public final class ToolchainSetup {
  /**
   * One program of the tool chain, as found.
   *
   * @param name its usual name
   * @param path where it was found
   * @param version the version it reports; empty when it is not there or does not run
   * @param wanted the oldest version that will do
   * @param usable whether it is there, runs and is new enough
   */
  public record Program(
      String name, Optional<Path> path, String version, String wanted, boolean usable) {}

  /** What is asked of a program; on Debian its package has the program's own name. */
  private enum Need {
    VERILATOR("verilator", "--version", "Verilator ([0-9.]+)", "5.006", "plumbline.verilator"),
    // The first g++ with the coroutines that Verilator's --timing needs (GCC 10 release notes).
    CXX("g++", "-dumpversion", "([0-9.]+)", "10", "plumbline.cxx"),
    MAKE("make", "--version", "GNU Make ([0-9.]+)", "3.81", "");

    private final String program;
    private final String versionOption;
    private final Pattern version;
    private final String wanted;
    private final String property;

    Need(String program, String versionOption, String version, String wanted, String property) {
      this.program = program;
      this.versionOption = versionOption;
      this.version = Pattern.compile(version);
      this.wanted = wanted;
      this.property = property;
    }

    private String variable() {
      return property.replace('.', '_').toUpperCase(Locale.ROOT);
    }
  }

  /** Installing what is there already does no harm, so each line names everything. */
  private static final String ADVICE =
      """
      Install what is missing, then run the same command again:
        Debian, Ubuntu    sudo apt-get install verilator g++ make
        Fedora            sudo dnf install verilator gcc-c++ make
        Arch              sudo pacman -S verilator gcc make
        Windows (WSL)     wsl --install -d Debian, then inside it as on Debian
      A program kept elsewhere, or newer than the system's own, is named by property or environment
      variable: -Dplumbline.verilator=FILE or PLUMBLINE_VERILATOR=FILE, -Dplumbline.cxx=FILE or
      PLUMBLINE_CXX=FILE for g++.\
      """;

  private final UnaryOperator<String> properties;
  private final UnaryOperator<String> environment;
  private final Path etc;

  /**
   * Looks for programs under the settings passed, so that tests can stand in for the machine.
   *
   * @param properties system properties by name, null where unset
   * @param environment environment variables by name, null where unset
   * @param etc the folder in which a Debian-family system keeps {@code debian_version}
   */
  ToolchainSetup(UnaryOperator<String> properties, UnaryOperator<String> environment, Path etc) {
    this.properties = properties;
    this.environment = environment;
    this.etc = etc;
  }

  /**
   * Checks, installs, and ends with status 1 and one message when the tool chain stays unusable.
   *
   * @param arguments none
   */
  public static void main(String[] arguments) {
    ToolchainSetup setup = ofThisMachine();
    List<Program> programs = setup.programs();
    if (!complete(programs)) {
      setup.install(programs);
      programs = setup.programs();
    }
    if (!complete(programs)) {
      System.err.println(complaint(programs));
      System.exit(1);
    }
  }

  /** Looks for programs under this machine's own settings. */
  private static ToolchainSetup ofThisMachine() {
    return new ToolchainSetup(System::getProperty, System::getenv, Path.of("/etc"));
  }

  /**
   * Finds each program on this machine and asks its version; installs nothing.
   *
   * @return verilator, g++ and make
   */
  public static List<Program> look() {
    return ofThisMachine().programs();
  }

  /** Finds each program and asks its version; the order is verilator, g++, make. */
  List<Program> programs() {
    return Arrays.stream(Need.values()).map(this::look).toList();
  }

  /**
   * Whether every program is usable.
   *
   * @param programs what was found
   * @return true when there is nothing to complain of
   */
  public static boolean complete(List<Program> programs) {
    return programs.stream().allMatch(Program::usable);
  }

  private Program look(Need need) {
    Optional<Path> path = find(setting(need).orElse(need.program));
    String version = path.map(file -> version(need, file)).orElse("");
    boolean usable = !version.isEmpty() && atLeast(version, need.wanted);
    return new Program(need.program, path, version, need.wanted + " or newer", usable);
  }

  /** What the user named in place of the usual program. */
  private Optional<String> setting(Need need) {
    if (need.property.isEmpty()) {
      return Optional.empty();
    }
    return Arrays.asList(properties.apply(need.property), environment.apply(need.variable()))
        .stream()
        .filter(value -> value != null && !value.isBlank())
        .findFirst();
  }

  /** A name with a slash is a file; any other is searched on {@code PATH}. */
  private Optional<Path> find(String name) {
    if (name.contains("/")) {
      return Optional.of(Path.of(name).toAbsolutePath()).filter(ToolchainSetup::runs);
    }
    String path = Optional.ofNullable(environment.apply("PATH")).orElse("");
    return Arrays.stream(path.split(Pattern.quote(File.pathSeparator)))
        .filter(folder -> !folder.isEmpty())
        .map(folder -> Path.of(folder).toAbsolutePath().resolve(name))
        .filter(ToolchainSetup::runs)
        .findFirst();
  }

  private static boolean runs(Path file) {
    return Files.isRegularFile(file) && Files.isExecutable(file);
  }

  private static String version(Need need, Path file) {
    Outcome outcome = run(List.of(file.toString(), need.versionOption));
    Matcher matcher = need.version.matcher(outcome.output);
    return outcome.succeeded && matcher.find() ? matcher.group(1) : "";
  }

  /** Compares part by part as numbers: 5.006 is before 5.048, and 10 is after 9.4. */
  static boolean atLeast(String version, String wanted) {
    String[] have = version.split("\\.", -1);
    String[] want = wanted.split("\\.", -1);
    for (int i = 0; i < want.length; i++) {
      int difference = number(i < have.length ? have[i] : "").compareTo(number(want[i]));
      if (difference != 0) {
        return difference > 0;
      }
    }
    return true;
  }

  private static BigInteger number(String digits) {
    return digits.isEmpty() ? BigInteger.ZERO : new BigInteger(digits);
  }

  /**
   * Installs with apt what is not usable, where that is allowed and possible; says what it does. A
   * program that the user named is theirs to mend.
   */
  void install(List<Program> programs) {
    List<String> packages =
        Arrays.stream(Need.values())
            .filter(need -> setting(need).isEmpty())
            .map(need -> need.program)
            .filter(name -> programs.stream().anyMatch(p -> p.name.equals(name) && !p.usable))
            .toList();
    Optional<Path> apt = find("apt-get");
    if (packages.isEmpty()
        || "false".equals(properties.apply("plumbline.install"))
        || !Files.exists(etc.resolve("debian_version"))
        || apt.isEmpty()
        || !isRoot()) {
      return;
    }
    System.out.println(
        "Plumbline: installing "
            + String.join(", ", packages)
            + " with apt, a minute or two (-Dplumbline.install=false switches this off)");
    Apt program = new Apt(apt.get());
    Outcome outcome = program.install(packages);
    if (!outcome.succeeded) {
      program.update();
      outcome = program.install(packages);
    }
    if (outcome.succeeded) {
      // A faster linker, used when it is there; older releases do not have it.
      program.install(List.of("mold"));
    } else {
      System.err.println("Plumbline: apt could not install them; it said:\n" + outcome.output);
    }
  }

  private boolean isRoot() {
    return find("id")
        .map(id -> run(List.of(id.toString(), "-u")).output.strip().equals("0"))
        .orElse(false);
  }

  private record Apt(Path program) {
    private void update() {
      run(List.of(program.toString(), "-q", "update"));
    }

    private Outcome install(List<String> packages) {
      List<String> command = new ArrayList<>();
      command.add(program.toString());
      // Another apt may hold the lock, as just after a machine's start.
      command.addAll(List.of("-y", "-q", "-o", "DPkg::Lock::Timeout=120"));
      command.addAll(List.of("install", "--no-install-recommends"));
      command.addAll(packages);
      return run(command);
    }
  }

  /**
   * The one message for a tool chain that is not complete: what is wrong and what to do.
   *
   * @param programs what was found
   * @return several lines of text
   */
  public static String complaint(List<Program> programs) {
    List<String> lines = new ArrayList<>();
    lines.add("Plumbline cannot build: the tool chain is not complete.");
    programs.stream()
        .filter(program -> !program.usable)
        .map(p -> "  " + p.name + ": " + found(p) + ", wanted " + p.wanted)
        .forEach(lines::add);
    ADVICE.lines().forEach(lines::add);
    return String.join(System.lineSeparator(), lines);
  }

  private static String found(Program program) {
    if (program.path.isEmpty()) {
      return "not found";
    }
    String version = program.version.isEmpty() ? "one that does not run" : program.version;
    return "found " + version + " (" + program.path.get() + ")";
  }

  private record Outcome(boolean succeeded, String output) {}

  /** Runs a command to its end; a command that cannot be started is one that failed. */
  private static Outcome run(List<String> command) {
    ProcessBuilder builder = new ProcessBuilder(command).redirectErrorStream(true);
    builder.environment().put("LC_ALL", "C");
    builder.environment().put("DEBIAN_FRONTEND", "noninteractive");
    try {
      Process process = builder.start();
      process.getOutputStream().close();
      String output = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
      return new Outcome(process.waitFor() == 0, output);
    } catch (IOException e) {
      return new Outcome(false, String.valueOf(e.getMessage()));
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return new Outcome(false, "interrupted");
    }
  }
}
