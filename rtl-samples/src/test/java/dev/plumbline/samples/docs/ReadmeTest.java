package dev.plumbline.samples.docs;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.samples.SampleRtl;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import javax.tools.ToolProvider;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** The README's own example is compiled and run as it stands there. */
@Execution(ExecutionMode.CONCURRENT)
class ReadmeTest {
  private static final Path ROOT = SampleRtl.FOLDER.getParent().getParent();

  private static final Pattern PLUGIN =
      Pattern.compile("<artifactId>(maven-\\w+-plugin)</artifactId>\\s*<version>(.*?)</version>");

  /** The example's gear, its operands one after the other on one bus. */
  private static final String GEAR_ON_A_BUS =
      """
      module gear (
          input  wire               clk,
          input  wire               rst,
          input  wire               in_valid,
          input  wire signed [15:0] in_data,
          output wire               out_valid,
          output wire signed [15:0] out_angle
      );
          reg               second;
          reg signed [15:0] first_data;

          wire signed [15:0] angle = first_data;
          wire signed [15:0] ratio = in_data;

          always @(posedge clk) begin
              if (rst) second <= 1'b0;
              else if (in_valid) begin
                  if (second) second <= 1'b0; else second <= 1'b1;
                  first_data <= in_data;
              end
          end

          gear_core core (
              .clk(clk), .rst(rst), .in_valid(in_valid & second),
              .in_angle(angle), .in_ratio(ratio),
              .out_valid(out_valid), .out_angle(out_angle)
          );
      endmodule

      """;

  @TempDir Path chip;
  private List<String> more = List.of(); // options of the JVM

  /** The only block of a language in the README. */
  private static String block(String language) throws IOException {
    return block(language, "");
  }

  /** The README's one block of a language that has some words in it. */
  static String block(String language, String words) throws IOException {
    List<String> blocks =
        Pattern.compile("(?s)```" + language + "\n(.*?)```")
            .matcher(Files.readString(ROOT.resolve("README.md")))
            .results()
            .map(match -> match.group(1))
            .filter(text -> text.contains(words))
            .toList();
    assertEquals(1, blocks.size(), () -> language + " blocks with \"" + words + "\": " + blocks);
    return blocks.get(0);
  }

  private Outcome verdictOn(String verilog, String test) throws IOException, InterruptedException {
    Files.createDirectories(chip.resolve("rtl"));
    Files.writeString(chip.resolve("rtl/gear.v"), verilog);
    Files.writeString(chip.resolve("GearTest.java"), test);
    return run("GearTest.java");
  }

  /** Compiles a test class that stands in the folder, and runs it. */
  private Outcome run(String file) throws IOException, InterruptedException {
    String source = chip.resolve(file).toString();
    String test = Path.of(file).getFileName().toString().replace(".java", "");
    String path = System.getProperty("java.class.path");
    Path classes = Files.createDirectories(chip.resolve("classes"));
    int compiled =
        ToolProvider.getSystemJavaCompiler()
            .run(null, null, null, "-cp", path, "-d", classes.toString(), source);
    assertEquals(0, compiled, () -> test + " compiles");
    List<String> command = java(classes + ":" + path);
    command.addAll(1, more);
    command.addAll(List.of(RunTests.class.getName(), test));
    return Outcome.of(chip, command);
  }

  @Test
  void exampleGivesAVerdict() throws Exception {
    Outcome outcome = verdictOn(block("verilog"), block("java"));
    assertEquals(0, outcome.status(), outcome.output());
    String summary = Files.readString(chip.resolve("reports/latest/summary.csv"));
    assertTrue(summary.contains("pass"), summary);
  }

  @Test
  @Tag("thorough")
  void exampleGoesRedAsTheReadmeSays() throws Exception {
    String verilog = block("verilog");
    assertTrue(verilog.contains(">>> 12"), verilog);
    Outcome outcome = verdictOn(verilog.replace(">>> 12", ">>> 11"), block("java"));
    assertEquals(1, outcome.status(), outcome.output());
    assertTrue(outcome.output().contains("mismatch"), outcome.output());
    String summary = Files.readString(chip.resolve("reports/latest/summary.csv"));
    assertTrue(summary.contains("mismatch"), summary);
  }

  @Test
  @Tag("thorough")
  void operandsComeOverSeveralBeatsAsTheReadmeSays() throws Exception {
    Matcher call =
        Pattern.compile("`(\\.beats\\(.*?\\))`")
            .matcher(Files.readString(ROOT.resolve("README.md")));
    assertTrue(call.find(), "the README has no call of beats");
    String valid = ".valid(\"in_valid\", \"out_valid\")";
    assertTrue(block("java").contains(valid));
    String test = block("java").replace(valid, valid + call.group(1));
    String core = block("verilog").replace("module gear (", "module gear_core (");
    Outcome outcome =
        verdictOn(GEAR_ON_A_BUS + core, "import dev.plumbline.contract.Beats;" + test);
    assertEquals(0, outcome.status(), outcome.output());
  }

  @Test
  void exampleUsesTheVersionsOfThisBuild() throws IOException {
    String readme = block("xml");
    String pom = Files.readString(ROOT.resolve("pom.xml"));
    Matcher junit = Pattern.compile("<junit.version>(.*?)</").matcher(pom);
    assertTrue(junit.find());
    assertTrue(readme.contains("<version>" + junit.group(1) + "</version>"), "JUnit");
    Matcher own = Pattern.compile("<version>(.*?)</version>").matcher(pom);
    assertTrue(own.find());
    assertTrue(readme.contains("<version>" + own.group(1) + "</version>"), "own version");
    // Plugins that this build has fetched already, so that the first run needs no network.
    Map<String, String> ours = plugins(pom);
    Map<String, String> theirs = plugins(readme);
    assertEquals(3, theirs.size(), theirs + ": resources, compiler and tests");
    theirs.forEach((plugin, version) -> assertEquals(ours.get(plugin), version, plugin));
  }

  private static Map<String, String> plugins(String pom) {
    return PLUGIN
        .matcher(pom)
        .results()
        .collect(Collectors.toMap(m -> m.group(1), m -> m.group(2)));
  }

  @Test
  @Tag("thorough")
  void onlyWhatChangedRunsAgainAsTheReadmeSays() throws Exception {
    Matcher option =
        Pattern.compile("`-Dplumbline\\.(passed=[^`]*)`")
            .matcher(Files.readString(ROOT.resolve("README.md")));
    assertTrue(option.find(), "the README has no such option");
    List<String> remembering = List.of("-Dplumbline." + option.group(1));
    more = remembering;
    String told = "GearTest.turnsAtItsRatio: not run again, since it passed on 2";

    String first = verdictOn(block("verilog"), block("java")).output();
    assertTrue(!first.contains("not run again"), first);
    Outcome again = verdictOn(block("verilog"), block("java"));
    assertEquals(0, again.status(), again.output());
    assertTrue(again.output().contains(told), again.output());
    assertTrue(Files.readString(chip.resolve("reports/latest/summary.csv")).contains("unchanged"));

    more = List.of(remembering.get(0), "-Dplumbline.again=true");
    assertTrue(!verdictOn(block("verilog"), block("java")).output().contains(told), "all run");
    more = remembering;
    Outcome red = verdictOn(block("verilog").replace(">>> 12", ">>> 11"), block("java"));
    assertEquals(1, red.status(), red.output());
    assertEquals(
        1, verdictOn(block("verilog").replace(">>> 12", ">>> 11"), block("java")).status());
    assertTrue(verdictOn(block("verilog"), block("java")).output().contains(told), "and back");
    // Another contract, which cannot hold.
    Outcome other = verdictOn(block("verilog"), block("java").replace("latency(2)", "latency(3)"));
    assertEquals(1, other.status(), other.output());
  }

  @Test
  @Tag("thorough")
  void commandLinesOfTheReadmeLeadToAVerdict() throws Exception {
    Files.createDirectories(chip.resolve("rtl"));
    Files.writeString(chip.resolve("rtl/gear.v"), block("verilog"));
    Files.copy(Path.of("src/test/rtl/ball.v"), chip.resolve("rtl/ball.v"));
    Files.createDirectories(chip.resolve("src/test/java"));
    Matcher lines =
        Pattern.compile("(?m)^plumbline (.*)$")
            .matcher(Files.readString(ROOT.resolve("README.md")));
    int seen = 0;
    while (lines.find()) {
      List<String> command = java(System.getProperty("java.class.path"));
      command.add("dev.plumbline.cli.Main");
      command.addAll(List.of(lines.group(1).split(" ")));
      if (lines.group(1).startsWith("watch")) {
        watches(command);
      } else {
        Outcome outcome = Outcome.of(chip, command);
        assertEquals(0, outcome.status(), outcome.output());
        if (lines.group(1).startsWith("budget")) {
          assertEquals(block("text", "cycles a ray may take"), outcome.output());
        }
      }
      seen++;
    }
    assertEquals(5, seen, "ports, shake, watch, draft and budget");
    Outcome drafted = run("src/test/java/BallTest.java");
    assertEquals(0, drafted.status(), drafted.output());
    assertTrue(Files.readString(chip.resolve("reports/latest/coverage.csv")).contains("inside"));
  }

  /** Two saves, as the README has them. */
  private void watches(List<String> command) throws Exception {
    Path classes = Files.createDirectories(chip.resolve("target/test-classes"));
    Path test = Files.writeString(chip.resolve("src/test/java/GearTest.java"), block("java"));
    String path = System.getProperty("java.class.path");
    int compiled =
        ToolProvider.getSystemJavaCompiler()
            .run(null, null, null, "-cp", path, "-d", classes.toString(), test.toString());
    assertEquals(0, compiled);
    Path log = chip.resolve("watch.log");
    Process watch =
        new ProcessBuilder(command)
            .directory(chip.toFile())
            .redirectErrorStream(true)
            .redirectOutput(log.toFile())
            .start();
    try {
      awaitRounds(watch, log, 1);
      Files.writeString(chip.resolve("rtl/gear.v"), block("verilog").replace(">>> 12", ">>> 11"));
      awaitRounds(watch, log, 2);
      Files.writeString(chip.resolve("rtl/gear.v"), block("verilog"));
      awaitRounds(watch, log, 3);
    } finally {
      watch.destroy();
    }
    watch.waitFor();
    String printed = Files.readString(log).replaceAll(" +[0-9.]+ s", " ");
    for (String line : block("text", "what is known follows").split("\n")) {
      String shown = line.replaceAll(" +[0-9.]+ s", " ");
      assertTrue(line.contains("...") || printed.contains(shown), () -> shown + " in " + printed);
    }
  }

  private static void awaitRounds(Process watch, Path log, int rounds) throws Exception {
    while (Files.readString(log).split("\nwatching", -1).length <= rounds) {
      assertTrue(watch.isAlive(), () -> "it ended: " + log);
      Thread.sleep(20);
    }
  }

  /** A JVM for some seconds: quickly up, and with models that are not optimised either. */
  private static List<String> java(String path) {
    return new ArrayList<>(
        List.of(
            Path.of(System.getProperty("java.home"), "bin", "java").toString(),
            "--enable-native-access=ALL-UNNAMED",
            "-XX:+UseSerialGC",
            "-XX:TieredStopAtLevel=1",
            "-Dplumbline.optimised=false",
            "-cp",
            path));
  }

  /** What a program left. */
  private record Outcome(int status, String output) {
    static Outcome of(Path folder, List<String> command) throws IOException, InterruptedException {
      Path log = folder.resolve("log");
      Process process =
          new ProcessBuilder(command)
              .directory(folder.toFile())
              .redirectErrorStream(true)
              .redirectOutput(log.toFile())
              .start();
      return new Outcome(process.waitFor(), Files.readString(log));
    }
  }
}
