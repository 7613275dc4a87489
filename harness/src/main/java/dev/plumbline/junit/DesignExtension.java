package dev.plumbline.junit;

import dev.plumbline.PlumblineException;
import dev.plumbline.check.Bench;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.cosim.DutOptions;
import dev.plumbline.cosim.InitialState;
import dev.plumbline.cosim.Trace;
import dev.plumbline.evidence.CsvTable;
import dev.plumbline.evidence.ReportException;
import dev.plumbline.frame.FrameBench;
import dev.plumbline.lockstep.LockstepBench;
import dev.plumbline.report.Annotations;
import dev.plumbline.report.RunReport;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.run.BenchBuilder;
import dev.plumbline.stimulus.SeedText;
import dev.plumbline.text.PlainText;
import dev.plumbline.verdict.KeptCase;
import dev.plumbline.verdict.Passes;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Verdict;
import dev.plumbline.verdict.Waveform;
import dev.plumbline.verdict.WaveformRequest;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.extension.AfterEachCallback;
import org.junit.jupiter.api.extension.ConditionEvaluationResult;
import org.junit.jupiter.api.extension.ExecutionCondition;
import org.junit.jupiter.api.extension.ExtensionContext;
import org.junit.jupiter.api.extension.ExtensionContext.Namespace;
import org.junit.jupiter.api.extension.ParameterContext;
import org.junit.jupiter.api.extension.ParameterResolutionException;
import org.junit.jupiter.api.extension.ParameterResolver;
import org.junit.platform.commons.support.AnnotationSupport;
import org.opentest4j.TestAbortedException;

/** Hands models, DUTs, benches and seeds to tests of a {@link DesignUnderTest}. */
final class DesignExtension implements ParameterResolver, AfterEachCallback, ExecutionCondition {
  private static final Namespace SHARED = Namespace.create(DesignExtension.class);

  @Override
  public boolean supportsParameter(ParameterContext parameter, ExtensionContext context) {
    Class<?> type = parameter.getParameter().getType();
    return type == CompiledDesign.class
        || type == Dut.class
        || type == Bench.Builder.class
        || type == LockstepBench.Builder.class
        || type == FrameBench.class
        || type == Seed.class;
  }

  @Override
  public Object resolveParameter(ParameterContext parameter, ExtensionContext context) {
    try {
      return value(parameter, context);
    } catch (PlumblineException | IllegalArgumentException e) {
      // Of anything else JUnit would say first which parameter of which method it was.
      throw new ParameterResolutionException(e.getMessage(), e);
    }
  }

  private Object value(ParameterContext parameter, ExtensionContext context) {
    Class<?> type = parameter.getParameter().getType();
    if (type == Seed.class) {
      return seed(context);
    }
    CompiledDesign model = model(context);
    if (type == CompiledDesign.class) {
      return model;
    }
    if (type == Dut.class) {
      return open(model, context);
    }
    if (type == FrameBench.class) {
      return frame(context, FrameBench.of(model));
    }
    return type == Bench.Builder.class
        ? bench(parameter, context, Bench.of(model))
        : bench(parameter, context, LockstepBench.of(model));
  }

  /** A bench with the cases that are named beside it, or with the one that is repeated alone. */
  private static <B extends BenchBuilder<B>> B bench(
      ParameterContext parameter, ExtensionContext context, B bench) {
    RunReport run = run(context);
    TestCase test = TestCase.of(context);
    long seed = seed(context).run();
    bench.options(AnnotatedOptions.of(annotation(context))).named(test.name()).seed(seed);
    bench.repeat(test.command(base(context), seed));
    waveform(context).ifPresent(bench::waveform);
    Optional<RepeatedCase> repeated = repeated(context);
    if (repeated.isPresent()) {
      RepeatedCase one = repeated.get();
      return bench.onlyCase(one.file(), one.kept()).recorder(one.telling(run));
    }
    return bench.keptCases(keptCases(parameter, context)).recorder(annotating(run, context));
  }

  /** A bench of a frame, which has no cases to be kept. */
  private static FrameBench frame(ExtensionContext context, FrameBench bench) {
    TestCase test = TestCase.of(context);
    long seed = seed(context).run();
    return bench
        .options(AnnotatedOptions.of(annotation(context)))
        .named(test.name())
        .seed(seed)
        .repeat(test.command(base(context), seed))
        .recorder(annotating(run(context), context));
  }

  /** The cases that are named beside a parameter or its test. */
  private static Map<String, KeptCase> keptCases(
      ParameterContext parameter, ExtensionContext context) {
    CaseFiles files = new CaseFiles(base(context), context.getRequiredTestClass());
    return parameter
        .findAnnotation(Cases.class)
        .or(() -> AnnotationSupport.findAnnotation(parameter.getDeclaringExecutable(), Cases.class))
        .map(named -> files.all(named.value()))
        .orElse(Map.of());
  }

  /** The run, which also says to a CI at which line of the RTL a verdict is red. */
  private static Recorder annotating(RunReport run, ExtensionContext context) {
    String property = context.getConfigurationParameter("plumbline.annotations").orElse("");
    if (!Annotations.areWanted(property)) {
      return run;
    }
    return new Recorder() {
      @Override
      public Optional<Path> record(Verdict verdict) {
        if (!verdict.isPass()) {
          System.out.println(Annotations.of(verdict, Annotations.checkout()));
        }
        return run.record(verdict);
      }

      @Override
      public boolean keepsInside() {
        return run.keepsInside();
      }

      @Override
      public void turnsRed(String bench) {
        run.turnsRed(bench);
      }

      @Override
      public Optional<Passes> passes() {
        return run.passes();
      }
    };
  }

  /** One for each test, read when it is asked for first. */
  private static Optional<RepeatedCase> repeated(ExtensionContext context) {
    return context
        .getConfigurationParameter("plumbline.case")
        .filter(file -> !file.isEmpty())
        .map(
            file ->
                context
                    .getStore(own(context))
                    .getOrComputeIfAbsent(
                        RepeatedCase.class,
                        key ->
                            new RepeatedCase(
                                file,
                                new CaseFiles(base(context), context.getRequiredTestClass())
                                    .one(file)),
                        RepeatedCase.class));
  }

  /** Of a test that has several invocations, property {@code plumbline.invocation} names one. */
  @Override
  public ConditionEvaluationResult evaluateExecutionCondition(ExtensionContext context) {
    String wanted = context.getConfigurationParameter("plumbline.invocation").orElse("");
    String invocation =
        context.getTestClass().map(type -> TestCase.of(context)).map(TestCase::number).orElse("");
    return wanted.isEmpty() || invocation.isEmpty() || (wanted + ".").startsWith(invocation + ".")
        ? ConditionEvaluationResult.enabled("")
        : ConditionEvaluationResult.disabled("property plumbline.invocation is " + wanted);
  }

  /**
   * On failure only, in the test or in what is done before and after it: how to repeat it, and what
   * the DUTs of this test printed.
   */
  @Override
  public void afterEach(ExtensionContext context) {
    Throwable thrown = context.getExecutionException().orElse(null);
    tellOfRepeated(context, thrown);
    if (thrown == null) {
      requireRepeated(context);
      waveform(context).ifPresent(request -> keepWanted(context, request));
    }
    if (thrown == null || thrown instanceof TestAbortedException) {
      return;
    }
    long seed = seed(context).run();
    TestCase test = TestCase.of(context);
    StringBuilder text = new StringBuilder();
    line(text, test.name() + " failed with seed " + seed + "; to repeat it:");
    line(text, "  " + test.command(base(context), seed));
    OpenDuts duts = context.getStore(own(context)).get(OpenDuts.class, OpenDuts.class);
    if (duts != null && !duts.text().isEmpty()) {
      line(text, "the DUT printed:");
      PlainText.lines(duts.text()).lines().forEach(printed -> line(text, "  " + printed));
    }
    if (duts != null) {
      run(context).turnsRed(test.name()); // what is kept of it may take a build of its own
      traces(context, duts, thrown).forEach(row -> line(text, row));
    }
    System.out.print(text); // in one piece, also when tests run in parallel
  }

  /** Of a test that passes: the waveforms that were asked for. */
  private static void keepWanted(ExtensionContext context, WaveformRequest request) {
    OpenDuts duts = context.getStore(own(context)).get(OpenDuts.class, OpenDuts.class);
    List<String> troubles = new ArrayList<>();
    List<Waveform> waveforms = duts == null ? List.of() : duts.waveforms(request, troubles);
    String name = TestCase.of(context).name();
    if (!waveforms.isEmpty()) {
      Path folder = run(context).keepTraces(name, Map.of(), Map.of(), waveforms, name + " passed");
      System.out.println("the waveform of " + name + ": " + folder.resolve("waveform.vcd"));
    }
    troubles.forEach(System.out::println);
  }

  /** As the nearest annotation says, or else the property. */
  private static Optional<WaveformRequest> waveform(ExtensionContext context) {
    return WaveformRequest.parse(annotation(context).waveform())
        .or(
            () ->
                context
                    .getConfigurationParameter(WaveformRequest.PROPERTY)
                    .flatMap(WaveformRequest::parse));
  }

  /** Of a test that drives its DUT by hand it is the test that judges. */
  private static void tellOfRepeated(ExtensionContext context, Throwable thrown) {
    RepeatedCase repeated =
        context.getStore(own(context)).get(RepeatedCase.class, RepeatedCase.class);
    if (repeated != null
        && repeated.hasRun()
        && repeated.isOf(TestCase.of(context).name())
        && context.getStore(own(context)).get(OpenDuts.class) != null) {
      System.out.println(
          repeated.file()
              + ": "
              + (thrown == null
                  ? "fixed: the test passes"
                  : "still wrong: the test fails: " + words(thrown)));
    }
  }

  /** A case that was asked for and never run is not fixed. */
  private static void requireRepeated(ExtensionContext context) {
    RepeatedCase repeated =
        context.getStore(own(context)).get(RepeatedCase.class, RepeatedCase.class);
    if (repeated != null && !repeated.hasRun()) {
      throw new ReportException(
          "Case "
              + repeated.file()
              + " was not run: it is of bench \""
              + repeated.kept().bench()
              + "\", and no bench of "
              + TestCase.of(context).name()
              + " is called that. Give the test that found it by -Dtest.",
          null);
    }
  }

  /** Keeps the last cycles of each DUT that was driven by hand; gives lines that say where. */
  private static List<String> traces(ExtensionContext context, OpenDuts duts, Throwable thrown) {
    Map<String, CsvTable> tables = new LinkedHashMap<>();
    for (Trace trace : duts.traces()) {
      int number = tables.size() + 1;
      tables.put(number == 1 ? "trace.csv" : "trace-" + number + ".csv", TraceTable.of(trace));
    }
    if (tables.isEmpty()) {
      return List.of();
    }
    TestCase test = TestCase.of(context);
    List<String> lines = new ArrayList<>();
    FailedLine.of(thrown, context.getRequiredTestClass(), base(context))
        .ifPresent(at -> lines.add("it failed at " + at));
    try {
      RunReport run = run(context);
      List<Waveform> waveforms = List.of();
      if (run.keepsInside()) {
        duts.oscillation(thrown).ifPresent(signals -> lines.add("oscillate: " + signals));
        waveforms = duts.lastWaveforms(lines);
      }
      Map<String, KeptCase> cases = duts.cases(test.name(), words(thrown));
      String repeat = cases.isEmpty() ? "" : test.command(base(context), seed(context).run());
      String facts = test.name() + " failed: " + thrown + System.lineSeparator();
      facts += String.join(System.lineSeparator(), lines);
      facts +=
          cases.isEmpty()
              ? ""
              : System.lineSeparator()
                  + "one case: "
                  + repeat
                  + " -Dplumbline.case=FOLDER/case-1.csv";
      Path folder = run.keepTraces(test.name(), tables, cases, waveforms, PlainText.lines(facts));
      lines.add("the last cycles of the DUT: " + folder.resolve("trace.csv"));
      if (!waveforms.isEmpty()) {
        lines.add("with the signals inside: " + folder.resolve("waveform.vcd"));
      }
      cases.keySet().stream()
          .limit(1)
          .forEach(
              file ->
                  lines.add(
                      "its rows from the start, run again by: "
                          + repeat
                          + " -Dplumbline.case="
                          + folder.resolve(file)));
    } catch (ReportException e) {
      lines.add("Not kept: " + e.getMessage());
    }
    return lines;
  }

  private static String words(Throwable thrown) {
    return String.valueOf(thrown.getMessage()).lines().findFirst().orElse("").strip();
  }

  private static void line(StringBuilder text, String line) {
    text.append(line).append(System.lineSeparator());
  }

  /** Maven says where the module is; elsewhere it is the folder that tests run in. */
  private static Path base(ExtensionContext context) {
    return Path.of(context.getConfigurationParameter("basedir").orElse(""))
        .toAbsolutePath()
        .normalize();
  }

  private static Namespace own(ExtensionContext context) {
    return Namespace.create(DesignExtension.class, context.getUniqueId());
  }

  private static Seed seed(ExtensionContext context) {
    long run = SeedText.ofRun(context.getConfigurationParameter(SeedText.PROPERTY));
    return new Seed(run, TestCase.of(context).fullName());
  }

  private static CompiledDesign model(ExtensionContext context) {
    RtlSource source = AnnotatedSource.of(annotation(context), base(context));
    return context
        .getRoot()
        .getStore(SHARED)
        .getOrComputeIfAbsent(source, key -> CompiledDesign.of(source), CompiledDesign.class);
  }

  /** The nearest annotation: the method's, the class's, that of a class around it. */
  private static DesignUnderTest annotation(ExtensionContext context) {
    return context
        .getTestMethod()
        .flatMap(method -> AnnotationSupport.findAnnotation(method, DesignUnderTest.class))
        .or(() -> onClass(context.getRequiredTestClass()))
        .orElseThrow(
            () ->
                new ParameterResolutionException(
                    "No @DesignUnderTest names the RTL of "
                        + context.getDisplayName()
                        + "; put one on the test or its class."));
  }

  private static Optional<DesignUnderTest> onClass(Class<?> type) {
    for (Class<?> around = type; around != null; around = around.getEnclosingClass()) {
      Optional<DesignUnderTest> found =
          AnnotationSupport.findAnnotation(around, DesignUnderTest.class);
      if (found.isPresent()) {
        return found;
      }
    }
    return Optional.empty();
  }

  private static Dut open(CompiledDesign model, ExtensionContext context) {
    Optional<RepeatedCase> repeated = repeated(context);
    if (repeated.isPresent() && repeated.get().isOf(TestCase.of(context).name())) {
      RepeatedCase one = repeated.get();
      if (one.runs()) {
        HandCase.repeat(one.file(), one.kept(), model).forEach(System.out::println);
      }
    }
    DutOptions options =
        AnnotatedOptions.of(annotation(context))
            .withInitialState(InitialState.RANDOM)
            .withSeed(seed(context).value());
    Dut dut = model.open(options);
    context
        .getStore(own(context))
        .getOrComputeIfAbsent(OpenDuts.class, key -> new OpenDuts(), OpenDuts.class)
        .add(dut, model, options.seed());
    return dut;
  }

  private static RunReport run(ExtensionContext context) {
    RunReport run =
        RunReport.of(
            context.getConfigurationParameter("plumbline.reports"),
            context.getConfigurationParameter("plumbline.run"));
    context
        .getRoot()
        .getStore(SHARED)
        .getOrComputeIfAbsent(EndOfRun.class, key -> new EndOfRun(run), EndOfRun.class);
    return run;
  }

  /** Closed by JUnit when all tests are over. */
  private record EndOfRun(RunReport run) implements AutoCloseable {
    @Override
    public void close() {
      System.out.print(run.consoleTable());
    }
  }
}
