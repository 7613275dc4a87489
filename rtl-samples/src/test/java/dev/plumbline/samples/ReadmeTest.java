package dev.plumbline.samples;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import javax.tools.ToolProvider;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** The README's own example is compiled and run as it stands there. */
@Execution(ExecutionMode.CONCURRENT)
class ReadmeTest {
  private static final Path ROOT = SampleRtl.FOLDER.getParent().getParent();

  @TempDir Path chip;

  /** The only block of a language in the README. */
  private static String block(String language) throws IOException {
    Matcher matcher =
        Pattern.compile("(?s)```" + language + "\n(.*?)```")
            .matcher(Files.readString(ROOT.resolve("README.md")));
    assertTrue(matcher.find(), "the README has no " + language + " block");
    String text = matcher.group(1);
    assertTrue(!matcher.find(), "the README has more than one " + language + " block");
    return text;
  }

  private Outcome verdictOn(String verilog) throws IOException, InterruptedException {
    Files.createDirectories(chip.resolve("rtl"));
    Files.writeString(chip.resolve("rtl/gear.v"), verilog);
    Files.writeString(chip.resolve("GearTest.java"), block("java"));
    return run("GearTest");
  }

  /** Compiles a test class that stands in the folder, and runs it. */
  private Outcome run(String test) throws IOException, InterruptedException {
    String source = chip.resolve(test + ".java").toString();
    String path = System.getProperty("java.class.path");
    int compiled =
        ToolProvider.getSystemJavaCompiler()
            .run(null, null, null, "-cp", path, "-d", chip.toString(), source);
    assertEquals(0, compiled, () -> test + " compiles");
    List<String> command = new ArrayList<>();
    command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    command.addAll(List.of("--enable-native-access=ALL-UNNAMED", "-cp", chip + ":" + path));
    command.addAll(List.of("dev.plumbline.samples.RunTests", test));
    return Outcome.of(chip, command);
  }

  @Test
  void exampleGivesAVerdict() throws Exception {
    Outcome outcome = verdictOn(block("verilog"));
    assertEquals(0, outcome.status(), outcome.output());
    String summary = Files.readString(chip.resolve("reports/latest/summary.csv"));
    assertTrue(summary.contains("pass"), summary);
  }

  @Test
  void exampleGoesRedAsTheReadmeSays() throws Exception {
    String verilog = block("verilog");
    assertTrue(verilog.contains(">>> 12"), verilog);
    Outcome outcome = verdictOn(verilog.replace(">>> 12", ">>> 11"));
    assertEquals(1, outcome.status(), outcome.output());
    assertTrue(outcome.output().contains("mismatch"), outcome.output());
    String summary = Files.readString(chip.resolve("reports/latest/summary.csv"));
    assertTrue(summary.contains("mismatch"), summary);
  }

  @Test
  void exampleUsesTheVersionsOfThisBuild() throws IOException {
    String readme = block("xml");
    String pom = Files.readString(ROOT.resolve("pom.xml"));
    for (String property : List.of("junit.version")) {
      Matcher matcher = Pattern.compile("<" + Pattern.quote(property) + ">(.*?)</").matcher(pom);
      assertTrue(matcher.find(), property);
      assertTrue(readme.contains("<version>" + matcher.group(1) + "</version>"), property);
    }
    Matcher own = Pattern.compile("<version>(.*?)</version>").matcher(pom);
    assertTrue(own.find());
    assertTrue(readme.contains("<version>" + own.group(1) + "</version>"), "own version");
  }

  @Test
  void commandLineOfTheReadmeIsUnderstood() throws Exception {
    Files.createDirectories(chip.resolve("rtl"));
    Files.writeString(chip.resolve("rtl/gear.v"), block("verilog"));
    for (Path file : SampleRtl.files()) {
      Files.copy(file, chip.resolve("rtl").resolve(file.getFileName()));
    }
    Matcher lines =
        Pattern.compile("(?m)^harness/bin/plumbline (.*)$")
            .matcher(Files.readString(ROOT.resolve("README.md")));
    int seen = 0;
    while (lines.find()) {
      List<String> command = new ArrayList<>();
      command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
      command.add("--enable-native-access=ALL-UNNAMED");
      command.addAll(List.of("-cp", System.getProperty("java.class.path")));
      command.add("dev.plumbline.cli.Main");
      command.addAll(List.of(lines.group(1).split(" ")));
      Outcome outcome = Outcome.of(chip, command);
      assertEquals(0, outcome.status(), outcome.output());
      seen++;
    }
    assertEquals(3, seen, "ports, shake and draft");
    Outcome drafted = run("SphereWalkerTest");
    assertEquals(0, drafted.status(), drafted.output());
    assertTrue(Files.readString(chip.resolve("reports/latest/situations.csv")).contains("inside"));
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
