package dev.plumbline.toolchain;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Holds the set-up to its promises on a machine made of small scripts. */
class ToolchainSetupTest {
  private static final String VERILATOR = "echo 'Verilator 5.006 2023-01-22 rev'";
  private static final String CXX = "echo 12";
  private static final String MAKE = "echo 'GNU Make 4.3'";

  @TempDir private Path machine;
  private Path bin;
  private Path etc;
  private final Map<String, String> properties = new HashMap<>();
  private final Map<String, String> environment = new HashMap<>();

  @BeforeEach
  void anEmptyMachine() throws IOException {
    bin = Files.createDirectory(machine.resolve("bin"));
    etc = Files.createDirectory(machine.resolve("etc"));
    environment.put("PATH", "/nowhere/at/all:" + bin);
  }

  private ToolchainSetup setup() {
    return new ToolchainSetup(properties::get, environment::get, etc);
  }

  private Path script(String name, String body) throws IOException {
    Path file = Files.writeString(bin.resolve(name), "#!/bin/sh\n" + body + "\n");
    return Files.setPosixFilePermissions(file, PosixFilePermissions.fromString("rwxr-xr-x"));
  }

  private void debianAsRoot() throws IOException {
    Files.writeString(etc.resolve("debian_version"), "12.0\n");
    script("id", "echo 0");
  }

  private String aptCalls() throws IOException {
    Path calls = machine.resolve("calls");
    return Files.exists(calls) ? Files.readString(calls) : "";
  }

  @Test
  void findsEachProgramOnThePathWithItsVersion() throws IOException {
    Path verilator = script("verilator", VERILATOR);
    script("g++", CXX);
    script("make", MAKE);

    List<ToolchainSetup.Program> programs = setup().programs();

    assertEquals(
        new ToolchainSetup.Program(
            "verilator", Optional.of(verilator), "5.006", "5.006 or newer", true),
        programs.get(0));
    assertEquals("12", programs.get(1).version());
    assertEquals("4.3", programs.get(2).version());
    assertTrue(ToolchainSetup.complete(programs));
  }

  @Test
  void propertyComesBeforeVariableComesBeforePath() throws IOException {
    script("verilator", VERILATOR);
    Path second = script("second", "echo 'Verilator 5.020'");
    script("third", "echo 'Verilator 5.048'");

    environment.put("PLUMBLINE_VERILATOR", "third");
    assertEquals("5.048", setup().programs().get(0).version());

    properties.put("plumbline.verilator", second.toString());
    assertEquals("5.020", setup().programs().get(0).version());

    properties.put("plumbline.verilator", "");
    assertEquals("5.048", setup().programs().get(0).version(), "an empty property is unset");
  }

  @Test
  void versionsCompareAsNumbersPartByPart() {
    assertTrue(ToolchainSetup.atLeast("5.006", "5.006"));
    assertTrue(ToolchainSetup.atLeast("5.048", "5.006"));
    assertTrue(ToolchainSetup.atLeast("6.0", "5.006"));
    assertTrue(ToolchainSetup.atLeast("12.2.0", "10"));
    assertFalse(ToolchainSetup.atLeast("5.004", "5.006"));
    assertFalse(ToolchainSetup.atLeast("4.228", "5.006"));
    assertFalse(ToolchainSetup.atLeast("9.4.0", "10"));
    assertFalse(ToolchainSetup.atLeast("5", "5.006"));
  }

  @Test
  void oneMessageNamesEachProgramThatWillNotDoAndHowToGetIt() throws IOException {
    Path old = script("verilator", "echo 'Verilator 4.038 2020-07-11'");
    Path broken = script("make", "exit 3");

    String complaint = ToolchainSetup.complaint(setup().programs());

    assertTrue(complaint.contains("verilator: found 4.038 (" + old + "), wanted 5.006 or newer"));
    assertTrue(complaint.contains("g++: not found, wanted 10 or newer"));
    assertTrue(complaint.contains("make: found one that does not run (" + broken + ")"));
    for (String line : List.of("apt-get install", "dnf install", "pacman -S", "wsl --install")) {
      assertTrue(complaint.contains(line), line);
    }
  }

  @Test
  void rootOnDebianGetsWhatIsMissingAfterAnUpdateWhenTheListsAreStale() throws IOException {
    debianAsRoot();
    script("make", MAKE);
    // Fails until updated, as apt does on a machine whose package lists are empty.
    script(
        "apt-get",
        """
        echo "$*" >> %1$s/calls
        case "$*" in
          *update*) : > %1$s/updated ;;
          *mold*) exit 100 ;;
          *) [ -f %1$s/updated ] || exit 100
             printf '#!/bin/sh\\necho Verilator 5.006\\n' > %2$s/verilator
             printf '#!/bin/sh\\necho 12\\n' > %2$s/g++
             /bin/chmod +x %2$s/verilator %2$s/g++ ;;
        esac\
        """
            .formatted(machine, bin));

    ToolchainSetup setup = setup();
    setup.install(setup.programs());

    assertTrue(ToolchainSetup.complete(setup.programs()), aptCalls());
    List<String> calls = aptCalls().lines().toList();
    assertEquals(4, calls.size(), "install, update, install, mold: " + calls);
    assertTrue(calls.get(2).endsWith("--no-install-recommends verilator g++"), calls.get(2));
  }

  @Test
  void nothingIsInstalledWhenSwitchedOffOrNotRootOrNotDebianOrNamedByTheUser() throws IOException {
    debianAsRoot();
    script("g++", CXX);
    script("make", MAKE);
    script("apt-get", "echo \"$*\" >> " + machine + "/calls");

    properties.put("plumbline.install", "false");
    setup().install(setup().programs());
    properties.clear();

    properties.put("plumbline.verilator", "/nowhere/verilator");
    setup().install(setup().programs());
    properties.clear();

    script("id", "echo 1000");
    setup().install(setup().programs());
    script("id", "echo 0");

    Files.delete(etc.resolve("debian_version"));
    setup().install(setup().programs());

    assertEquals("", aptCalls());
  }
}
