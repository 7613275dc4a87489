package dev.plumbline.watch;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.JavaFork;
import dev.plumbline.stimulus.RandomStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import javax.tools.ToolProvider;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.junit.jupiter.api.io.TempDir;

/** {@code plumbline watch} over real edits of a small project, in a JVM of its own. */
@Tag("thorough")
class WatchTest {
  private static final String WHEEL =
      """
      `include "teeth.vh"
      module NAME (input wire clk, input wire signed [15:0] in_a, output reg signed [23:0] out_p);
        always @(posedge clk) out_p <= in_a * `TEETH; // turns
      endmodule
      """;

  /** Two wheels, a test each. */
  private static final String TESTS =
      """
      import dev.plumbline.check.Bench;
      import dev.plumbline.junit.DesignUnderTest;
      import org.junit.jupiter.api.Test;

      class WheelTest {
        @Test
        @DesignUnderTest(sources = "FOLDER/rtl/sun.v", top = "sun", includeFolders = "FOLDER/rtl")
        void sun(Bench.Builder bench) {
          bench.contract(WheelModel.contract()).cases(2_000).check();
        }

        @Test
        @DesignUnderTest(sources = "FOLDER/rtl/moon.v", top = "moon", includeFolders = "FOLDER/rtl")
        void moon(Bench.Builder bench) {
          bench.contract(WheelModel.contract()).cases(2_000).check();
        }
      }
      """;

  private static final String MODEL =
      """
      import dev.plumbline.contract.Contract;
      import dev.plumbline.contract.Reference;
      import dev.plumbline.models.datapath.Datapath;
      import dev.plumbline.models.fixed.Format;

      class WheelModel {
        static Contract contract() {
          Datapath.Builder b = Datapath.named("wheel");
          var turned = b.multiply("p", b.input("in_a", Format.signed(16, 0)),
              b.constant("teeth", Format.signed(8, 0), 12));
          b.output("out_p", turned, Format.signed(24, 0));
          return Contract.of(Reference.exact(b.build())).latency(1).build();
        }
      }
      """;

  @TempDir private Path folder;
  private Path classes;
  private JavaFork watch;
  private final List<String> all = new ArrayList<>();

  @BeforeEach
  void aProject() throws IOException {
    Files.createDirectories(folder.resolve("rtl"));
    classes = Files.createDirectories(folder.resolve("classes"));
    rtl("teeth.vh", "`define TEETH 12\n");
    rtl("sun.v", WHEEL.replace("NAME", "sun"));
    rtl("moon.v", WHEEL.replace("NAME", "moon"));
    java("WheelModel", MODEL);
    java("WheelTest", TESTS.replace("FOLDER", folder.toString()));
    String cache = System.getProperty("plumbline.cache", "");
    watch =
        new JavaFork(
            dev.plumbline.cli.Door.class,
            List.of(
                "-Dplumbline.cache=" + cache,
                "-Dplumbline.reports=" + folder + "/reports",
                "-Djava.io.tmpdir=" + Files.createDirectories(folder.resolve("tmp"))),
            "watch",
            "--classes",
            classes.toString(),
            "WheelTest");
  }

  @AfterEach
  void end() {
    watch.close();
  }

  private void rtl(String name, String text) throws IOException {
    Files.writeString(folder.resolve("rtl").resolve(name), text);
  }

  /** Compiles a class into the folder that is watched. */
  private void java(String name, String text) throws IOException {
    Path source = Files.writeString(folder.resolve(name + ".java"), text);
    String path = classes + ":" + System.getProperty("java.class.path");
    int status =
        ToolProvider.getSystemJavaCompiler()
            .run(null, null, null, "-cp", path, "-d", classes.toString(), source.toString());
    assertEquals(0, status, name);
  }

  /** The lines until it waits again: verdicts, without the seconds. */
  private List<String> round() throws IOException {
    List<String> verdicts = new ArrayList<>();
    for (String line = watch.line(); ; line = watch.line()) {
      assertTrue(line != null, () -> "it ended: " + all);
      all.add(line);
      if (line.startsWith("watching")) {
        return verdicts;
      }
      if (line.matches("(pass|RED ) .*")) {
        verdicts.add(line.replaceAll(" +[0-9.]+ s.*", "").replaceAll(" +", " "));
      }
    }
  }

  /** The same where the order does not matter. */
  private List<String> sorted() throws IOException {
    return round().stream().sorted().toList();
  }

  private String lastCount() {
    return all.get(all.size() - 2).replaceAll("; [0-9.]+ s", "");
  }

  @Test
  void eachSaveRunsWhatItReachesNewestRedFirst() throws Exception {
    assertEquals(List.of("pass WheelTest.moon", "pass WheelTest.sun"), sorted(), all::toString);

    rtl("sun.v", WHEEL.replace("NAME", "sun").replace("in_a *", "-in_a *"));
    assertEquals(List.of("RED WheelTest.sun"), round(), all::toString);
    assertTrue(all.toString().contains("value wrong"), all::toString);
    assertEquals("0 pass, 1 red, 1 not reached", lastCount());

    // A comment reaches nothing.
    rtl("moon.v", WHEEL.replace("NAME", "moon").replace("turns", "turns fast"));
    assertEquals(List.of(), round(), all::toString);
    assertEquals("0 pass, 0 red, 2 not reached", lastCount());

    // What both include; red before green, and only the first in full.
    rtl("teeth.vh", "`define TEETH 13\n");
    assertEquals(List.of("RED WheelTest.sun", "RED WheelTest.moon"), round(), all::toString);
    rtl("teeth.vh", "`define TEETH 12\n");
    assertEquals(List.of("pass WheelTest.moon", "RED WheelTest.sun"), round(), all::toString);

    // Two files at once, one of them no Verilog any more.
    rtl("sun.v", WHEEL.replace("NAME", "sun"));
    rtl("moon.v", WHEEL.replace("NAME", "moon").replace("endmodule", "endmodul"));
    assertEquals(List.of("pass WheelTest.sun", "RED WheelTest.moon"), round(), all::toString);
    assertTrue(all.toString().contains("moon.v:4:"), "where the error is");
    rtl("moon.v", WHEEL.replace("NAME", "moon"));
    assertEquals(List.of("pass WheelTest.moon"), round(), all::toString);

    // A file that goes under another name, and comes back.
    Path sun = folder.resolve("rtl/sun.v");
    Files.move(sun, folder.resolve("rtl/tiny.v"));
    assertEquals(List.of("RED WheelTest.sun"), round(), all::toString);
    Files.move(folder.resolve("rtl/tiny.v"), sun);
    assertEquals(List.of("pass WheelTest.sun"), round(), all::toString);

    // Java: a model, then a test.
    java("WheelModel", MODEL.replace(", 12)", ", 11)"));
    assertEquals(List.of("RED WheelTest.moon", "RED WheelTest.sun"), sorted(), all::toString);
    java("WheelModel", MODEL);
    assertEquals(List.of("pass WheelTest.moon", "pass WheelTest.sun"), sorted(), all::toString);
    java("WheelTest", TESTS.replace("FOLDER", folder.toString()).replace("void moon", "void big"));
    assertEquals(List.of("pass WheelTest.big", "pass WheelTest.sun"), sorted(), all::toString);

    Set<String> files = files();
    watch.interrupt();
    assertEquals(130, watch.status());
    assertEquals(List.of(), left(), "processes that it started");
    files.removeIf(file -> file.startsWith("tmp/"));
    assertEquals(files, files(), "files beside the newest evidence");
  }

  /** Twenty further edits, as they come in an afternoon; of each what it says. */
  @Test
  @EnabledIfSystemProperty(named = "plumbline.long", matches = "true")
  void anAfternoonOfEditsLeavesNothing() throws Exception {
    String sun = WHEEL.replace("NAME", "sun");
    String moon = WHEEL.replace("NAME", "moon");
    List<String> both = List.of("pass WheelTest.moon", "pass WheelTest.sun");
    List<String> redSun = List.of("RED WheelTest.sun");
    List<String> mended = List.of("pass WheelTest.sun");
    assertEquals(both, sorted(), all::toString);
    Set<String> before = files();
    for (String broken :
        List.of(
            "", // saved while it was empty
            sun.replace("output reg", "output"), // no such assignment
            sun.replace("in_a", "in_b"), // a port by another name
            sun.replace("module sun", "module son"), // another module
            sun.replace("[15:0] in_a", "[16:0] in_a"), // a port of another width
            sun.replace("// turns", "\n  always @(posedge clk) if (in_a == 7) $finish; //"),
            sun.replace("<= in_a", "<= #1 in_a + 1'b1 -"),
            sun.replace("teeth.vh", "tooth.vh"))) { // an include that is not there
      rtl("sun.v", broken);
      assertEquals(redSun, round(), all::toString);
      rtl("sun.v", sun);
      assertEquals(mended, round(), all::toString);
    }
    // An editor that writes beside and renames, with files of its own around.
    Path aside = folder.resolve("rtl/.sun.v.swp");
    Files.writeString(aside, "kept by an editor");
    Files.writeString(folder.resolve("rtl/sun.v~"), sun);
    Path fresh = Files.writeString(folder.resolve("rtl/.new"), sun.replace("in_a *", "~in_a *"));
    Files.move(fresh, folder.resolve("rtl/sun.v"), StandardCopyOption.REPLACE_EXISTING);
    assertEquals(redSun, round(), all::toString);
    Files.delete(aside);
    Files.delete(folder.resolve("rtl/sun.v~"));
    rtl("sun.v", sun);
    assertEquals(mended, round(), all::toString);
    // What both include goes and comes back; a file is saved as it was.
    Files.delete(folder.resolve("rtl/teeth.vh"));
    assertEquals(List.of("RED WheelTest.moon", "RED WheelTest.sun"), sorted(), all::toString);
    rtl("teeth.vh", "`define TEETH 12\n");
    assertEquals(both, sorted(), all::toString);
    rtl("moon.v", moon);
    assertEquals(List.of(), round(), all::toString);
    // A build that begins by taking all classes away.
    for (String gone : List.of("WheelTest", "WheelModel")) {
      Files.delete(classes.resolve(gone + ".class"));
    }
    assertEquals(List.of(), round(), all::toString);
    java("WheelModel", MODEL);
    round();
    java("WheelTest", TESTS.replace("FOLDER", folder.toString()));
    assertEquals(both, sorted(), all::toString);
    watch.interrupt();
    assertEquals(130, watch.status());
    assertEquals(List.of(), left(), "processes that it started");
    Set<String> after = files();
    before.removeIf(file -> file.startsWith("tmp/") || file.startsWith("reports/"));
    after.removeIf(file -> file.startsWith("tmp/") || file.startsWith("reports/"));
    assertEquals(before, after, "files beside the evidence");
  }

  /** Ctrl-C while a compiler runs ends that, and takes away the folder that it works in. */
  @Test
  void ctrlCAmidABuildLeavesNothing() throws Exception {
    round();
    StringBuilder network = new StringBuilder("reg [255:0] w0;\nalways @(posedge clk) begin\n");
    RandomStream stream = RandomStream.of(1);
    for (int bit = 0; bit < 256; bit++) {
      network.append("w0[").append(bit).append("] <= in_a[").append(bit % 16).append("]");
      for (int from = 0; from < 256; from++) {
        network.append(stream.next() < 0 ? " ^ w0[" + from + "]" : "");
      }
      network.append(";\n");
    }
    network.append("end\nassign out_p = w0[23:0] ^ w0[255:232];\nendmodule\n");
    String head = "module sun (input clk, input [15:0] in_a, output [23:0] out_p);\n";
    rtl("sun.v", head + network);
    List<ProcessHandle> compilers = List.of();
    Set<Path> around = Set.of();
    while (around.isEmpty()) {
      assertTrue(watch.alive(), "it ended before it compiled");
      Thread.sleep(10);
      compilers = watch.descendants();
      around = compilers.stream().flatMap(WatchTest::folder).collect(Collectors.toSet());
    }
    watch.interrupt();
    assertEquals(130, watch.status());
    for (ProcessHandle compiler : compilers) {
      for (int wait = 0; wait < 100 && runs(compiler); wait++) {
        Thread.sleep(50); // it was killed; when it is gone is the system's affair
      }
      assertFalse(runs(compiler), () -> compiler.info().toString());
    }
    around.forEach(place -> assertFalse(Files.exists(place), place::toString));
  }

  /** Whether a process runs; one that has ended and that nobody has asked for yet does not. */
  private static boolean runs(ProcessHandle process) {
    try {
      String status = Files.readString(Path.of("/proc", Long.toString(process.pid()), "stat"));
      return "ZX".indexOf(status.charAt(status.lastIndexOf(')') + 2)) < 0;
    } catch (IOException e) {
      return false;
    }
  }

  /** The folder that a compiler works in, as its words say. */
  private static Stream<Path> folder(ProcessHandle process) {
    return Stream.of(process.info().arguments().orElse(new String[0]))
        .filter(word -> word.matches("/.*/unit\\d*\\.cpp"))
        .map(word -> Path.of(word).getParent());
  }

  /** All files of the project. */
  private Set<String> files() throws IOException {
    try (Stream<Path> all = Files.walk(folder)) {
      return all.filter(Files::isRegularFile)
          .map(file -> folder.relativize(file).toString())
          .collect(Collectors.toCollection(TreeSet::new));
    }
  }

  /** Processes whose words have the project's folder. */
  private List<String> left() throws IOException {
    List<String> found = new ArrayList<>();
    try (Stream<Path> all = Files.list(Path.of("/proc"))) {
      for (Path process : all.filter(p -> p.getFileName().toString().matches("\\d+")).toList()) {
        try {
          String words = Files.readString(process.resolve("cmdline"));
          if (words.contains(folder.toString())) {
            found.add(words);
          }
        } catch (IOException e) {
          // gone meanwhile
        }
      }
    }
    return found;
  }
}
