package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.JavaFork;
import dev.plumbline.check.Bench;
import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.report.RunReport;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.toolchain.BuildOptions.Optimisation;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.TimelessVerdict;
import dev.plumbline.verdict.Verdict;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.concurrent.ExecutionException;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** A fast library takes over from the one that was compiled first, and nothing tells of it. */
class TiersTest {
  private static final Path RTL = Path.of("src/test/rtl/checked/gear_train.sv");

  /** Once in some 2^19 cases, so that the first segments are right. */
  private static final String RARE =
      "26'(product_s2_q) + 26'(offset_s2_q) + 26'(offset_s2_q[18:0] == 19'h5e4a3)";

  @TempDir private Path folder;

  private static RtlSource source() {
    return RtlSource.of(RTL).withTop("gear_train");
  }

  private RtlSource planted() throws IOException {
    String right = Files.readString(RTL);
    String wrong = right.replace("26'(product_s2_q) + 26'(offset_s2_q)", RARE);
    assertNotEquals(right, wrong);
    return RtlSource.of(Files.writeString(folder.resolve("gear_train.sv"), wrong));
  }

  private static Contract contract() {
    Datapath.Builder b = Datapath.named("gear train");
    Value turns = b.input("turns", Format.signed(8, 8));
    Value teeth = b.input("teeth", Format.unsigned(8, 0));
    Value offset = b.input("offset", Format.signed(16, 8));
    Value sum = b.add("sum", b.multiply("product", turns, teeth), offset);
    b.output("angle", sum, Format.signed(18, 8));
    Value zero = b.constant("zero", Format.signed(2, 0), 0);
    b.output("forward", b.lessThan("forward", zero, sum));
    return Contract.of(Reference.exact(b.build()))
        .valid("in_valid", "out_valid")
        .reset("rst")
        .latency(3)
        .build();
  }

  private static CompiledDesign model(RtlSource source, Optimisation when) {
    return CompiledDesign.of(source, BuildOptions.defaults().withOptimisation(when));
  }

  /** Keeps verdicts in a folder, as if no time had passed; says which library was open when. */
  private static final class Timeless implements Recorder {
    private final RunReport run;
    private final CompiledDesign model;
    private final long casesBefore;
    private final List<Path> opened = new ArrayList<>();

    Timeless(Path reports, CompiledDesign model, long casesBefore) {
      this.run = RunReport.open(reports, "run");
      this.model = model;
      this.casesBefore = casesBefore;
    }

    @Override
    public Optional<Path> record(Verdict verdict) {
      opened.add(model.file());
      assertTrue(verdict.isPass() || verdict.findings().segment() > 1, verdict::facts);
      return run.record(TimelessVerdict.of(verdict));
    }

    @Override
    public boolean keepsInside() {
      return true;
    }

    @Override
    public void checked(long cases, long of) {
      opened.add(model.file());
      if (cases > casesBefore) {
        try {
          model.tiers().optimise().get();
        } catch (InterruptedException | ExecutionException e) {
          throw new AssertionError("the fast library could not be made", e);
        }
      }
    }
  }

  /** All files of a run by name. */
  private static Map<String, String> files(Path reports) throws IOException {
    Map<String, String> files = new TreeMap<>();
    try (Stream<Path> all = Files.walk(reports.resolve("run"))) {
      for (Path file : all.filter(Files::isRegularFile).toList()) {
        files.put(
            reports.relativize(file).toString(),
            Files.readString(file, StandardCharsets.ISO_8859_1).replace(reports.toString(), ""));
      }
    }
    return files;
  }

  private Timeless run(String name, RtlSource source, Optimisation when, long casesBefore) {
    CompiledDesign model = model(source, when);
    Timeless keeper = new Timeless(folder.resolve(name), model, casesBefore);
    Bench.of(model).contract(contract()).cases(4_000_000).threads(1).recorder(keeper).run();
    return keeper;
  }

  @ParameterizedTest
  @ValueSource(booleans = {true, false})
  @Tag("thorough")
  void whicheverLibraryRanWhichSegmentVerdictAndFilesAreTheSame(boolean isRight) throws Exception {
    // A parameter of its own, so that no fast library is there before.
    RtlSource source = isRight ? source() : planted();
    source = source.withDefine("TIERS", folder.getFileName().toString());

    Timeless mixed = run("mixed", source, Optimisation.LATER, 100_000);
    run("first", source, Optimisation.NEVER, Long.MAX_VALUE);
    run("fast", source, Optimisation.FIRST, Long.MAX_VALUE);

    int last = mixed.opened.size() - 1;
    assertNotEquals(
        mixed.opened.get(0), mixed.opened.get(last), () -> "none took over: " + mixed.opened);
    assertEquals(mixed.opened.get(0), mixed.opened.get(1), "and not before the third segment");
    Map<String, String> expected = files(folder.resolve("first"));
    assertTrue(expected.containsKey("run/summary.csv"), expected::toString);
    assertEquals(!isRight, expected.keySet().stream().anyMatch(file -> file.endsWith(".vcd")));
    assertEquals(expected, files(folder.resolve("mixed")));
    assertEquals(expected, files(folder.resolve("fast")));
  }

  @Test
  void aModelThatRunsBrieflyIsNotOptimised() {
    CompiledDesign model = model(source().withDefine("BRIEF", "1"), Optimisation.LATER);
    Path first = model.file();
    Bench.of(model).contract(contract()).cases(2_000).check();

    model.tiers().ran(1_000_000);
    assertEquals(first, model.file());
    assertFalse(model.tiers().isUnderWay());
  }

  @Test
  @Tag("thorough")
  void aModelThatHasRunForLongEndsOnTheFastLibrary() throws InterruptedException {
    CompiledDesign model = model(source().withDefine("LONG", "1"), Optimisation.LATER);
    Path first = model(source().withDefine("LONG", "1"), Optimisation.NEVER).file();
    try (Dut dut = model.open()) {
      Batch batch = dut.batch(4096);
      for (int i = 0; i < 1_000_000 && model.file().equals(first); i++) {
        dut.run(batch, 4096);
      }
    }
    assertNotEquals(first, model.file());
    assertEquals(model(source().withDefine("LONG", "1"), Optimisation.FIRST).file(), model.file());
    // Whoever comes next has it from the start.
    assertEquals(model.file(), model(source().withDefine("LONG", "1"), Optimisation.LATER).file());
  }

  @Test
  @Tag("thorough")
  void aJvmThatEndsMeanwhileLeavesNoProgramAndNoFolderBehind() throws Exception {
    // A cache of its own: what other tests leave in theirs meanwhile is no concern of this one.
    Path work = Files.createDirectories(folder.resolve("cache/work"));
    Set<Path> before = folders(work);
    // A name of its own, so that there is no such library yet.
    String own = "angle_" + folder.getFileName().toString().replaceAll("\\W", "_");
    Path renamed = folder.resolve("gear_train.sv");
    Files.writeString(renamed, Files.readString(RTL).replace("angle_s3_q", own));
    List<String> programs;
    try (JavaFork fork =
        new JavaFork(
            EndsWhileOptimising.class,
            List.of("-Dplumbline.cache=" + work.getParent()),
            renamed.toString())) {
      programs = fork.lines();
    }
    assertTrue(programs.size() > 1, "the compiler and its driver: " + programs);
    for (String program : programs) {
      assertFalse(runs(program), "process " + program);
    }
    Set<Path> left = folders(work);
    left.removeAll(before);
    left.removeIf(folder -> !folder.getFileName().toString().startsWith("beside"));
    assertEquals(Set.of(), left);
  }

  /** Whether there is such a process; one that only waits to be counted out has no words. */
  private static boolean runs(String process) throws IOException {
    Path words = Path.of("/proc", process, "cmdline");
    return Files.exists(words) && Files.readAllBytes(words).length > 0;
  }

  private static Set<Path> folders(Path work) throws IOException {
    try (Stream<Path> all = Files.list(work)) {
      return new HashSet<>(all.toList());
    }
  }

  @Test
  void thatOneIsNeverWantedHolds() {
    CompiledDesign model = model(source(), Optimisation.NEVER);
    model.file();
    model.tiers().ran(Long.MAX_VALUE / 2);
    assertFalse(model.tiers().isUnderWay());
  }
}
