package dev.plumbline;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.JavaCall;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.lang.ArchRule;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** Which package may use which, and what each of them never does. */
class ArchitectureTest {
  private static final JavaClasses CODE =
      new ClassFileImporter()
          .withImportOption(ImportOption.Predefined.DO_NOT_INCLUDE_TESTS)
          .importPackages("dev.plumbline");

  /** The plan: every package, and which others it may use. An arrow points at what is used. */
  private static final Map<String, Set<String>> PLAN =
      plan(
          """
          models ->
          models.fixed ->
          models.parsing -> models
          models.rows ->
          models.datapath -> models models.parsing models.fixed models.rows
          models.unit -> models models.fixed models.datapath models.rows
          models.solid -> models models.fixed models.datapath models.unit
          models.span -> models.fixed
          models.program -> models models.fixed models.parsing models.span
          models.scene -> models models.fixed models.parsing models.span models.program
          models.traversal -> models models.fixed models.datapath models.unit models.solid models.span models.program
          models.picture ->
          models.light -> models.fixed models.datapath models.unit models.span models.program models.traversal models.picture
          root ->
          text -> root
          rtl -> root text
          toolchain -> root text rtl
          cosim -> root text rtl toolchain models.rows
          stimulus -> root text models.fixed models.datapath
          verdict -> root text models.fixed models.datapath models.picture
          contract -> rtl root text models.fixed models.datapath
          bus -> root text rtl cosim stimulus verdict
          drive -> root text models.fixed models.datapath rtl cosim stimulus verdict contract
          judge -> root models.fixed models.datapath cosim verdict contract drive
          window -> root models.fixed models.datapath rtl cosim verdict contract drive judge
          stage -> root models.fixed models.datapath rtl cosim verdict contract drive judge window
          run -> root models.fixed models.datapath rtl toolchain cosim stimulus verdict contract drive judge window stage
          explain -> root text models.fixed models.datapath cosim stimulus verdict contract drive judge window run
          check -> root text rtl cosim stimulus verdict contract drive judge run explain models.datapath
          wiring -> models.parsing root text models.fixed models.datapath rtl contract
          cases -> root text models.fixed models.datapath models.rows models.span models.program models.traversal stimulus
          coverage -> root text models.fixed models.datapath
          blocks -> root text models.fixed models.datapath models.unit models.solid models.picture rtl stimulus verdict contract check wiring cases coverage
          lockstep -> root text models.fixed models.datapath models.span models.program models.traversal rtl cosim stimulus verdict contract drive judge window stage run cases
          evidence -> root text models.fixed models.datapath verdict models.picture
          report -> models.parsing models.fixed models.datapath stimulus root text verdict evidence models.picture
          frame -> root text models.parsing models.fixed models.datapath models.program models.traversal models.picture models.light rtl cosim stimulus verdict contract lockstep run
          faults -> root text rtl evidence
          sweep -> rtl root text models.datapath toolchain cosim stimulus verdict contract check evidence
          regression -> root text cosim stimulus verdict report rtl
          junit -> root text models.fixed rtl cosim stimulus verdict drive run evidence check lockstep frame report models.datapath
          watch -> root text rtl toolchain report
          cli -> models.parsing root text models.fixed models.solid rtl toolchain cosim stimulus contract check wiring blocks evidence frame junit watch
          """);

  private static Map<String, Set<String>> plan(String text) {
    Map<String, Set<String>> plan = new LinkedHashMap<>();
    for (String line : text.lines().toList()) {
      String[] sides = line.split(" ->", 2);
      Set<String> used = Set.of(sides[1].strip().split(" +"));
      plan.put(sides[0], used.equals(Set.of("")) ? Set.of() : used);
    }
    return plan;
  }

  private static String packageOf(JavaClass type) {
    String name = type.getPackageName();
    return name.equals("dev.plumbline") ? "root" : name.substring("dev.plumbline.".length());
  }

  private static boolean isOurs(JavaClass type) {
    return (type.getPackageName() + ".").startsWith("dev.plumbline.");
  }

  @Test
  void everyPackageIsOnThePlanAndEveryPackageOfThePlanIsThere() {
    Set<String> found = new TreeSet<>();
    CODE.stream()
        .filter(ArchitectureTest::isOurs)
        .map(ArchitectureTest::packageOf)
        .forEach(found::add);
    assertEquals(new TreeSet<>(PLAN.keySet()), found);
  }

  @Test
  void packagesUseOnlyWhatThePlanSays() {
    assertEquals(List.of(), offences(PLAN));
  }

  @Test
  void anArrowThatIsNotOnThePlanIsNoticed() {
    Map<String, Set<String>> narrower = new LinkedHashMap<>(PLAN);
    narrower.put("cosim", Set.of("rtl"));
    assertFalse(offences(narrower).isEmpty());
  }

  private static List<String> offences(Map<String, Set<String>> plan) {
    return CODE.stream()
        .filter(ArchitectureTest::isOurs)
        .flatMap(type -> type.getDirectDependenciesFromSelf().stream())
        .filter(use -> isOurs(use.getTargetClass()))
        .filter(use -> !packageOf(use.getTargetClass()).equals(packageOf(use.getOriginClass())))
        .filter(
            use ->
                !plan.getOrDefault(packageOf(use.getOriginClass()), Set.of())
                    .contains(packageOf(use.getTargetClass())))
        .map(use -> use.getOriginClass().getName() + " uses " + use.getTargetClass().getName())
        .distinct()
        .sorted()
        .toList();
  }

  /** Each package uses only what stands above it in the plan, so that there is no circle. */
  @Test
  void thePlanIsFreeOfCircles() {
    Set<String> above = new HashSet<>();
    PLAN.forEach(
        (name, used) -> {
          assertTrue(above.containsAll(used), name + " uses what stands below it");
          above.add(name);
        });
  }

  @Test
  void modelsKnowNothingButJava() {
    classes()
        .that()
        .resideInAPackage("dev.plumbline.models..")
        .should()
        .onlyDependOnClassesThat()
        .resideInAnyPackage("dev.plumbline.models..", "java..")
        .check(CODE);
  }

  /** Longest source file, in lines: what a reader takes in at a sitting. */
  private static final int LONGEST = 470;

  @Test
  void filesStayShort() throws IOException {
    List<String> tooLong = new ArrayList<>();
    long files = 0;
    for (String module : List.of("models", "harness", "rtl-samples")) {
      try (Stream<Path> paths = Files.walk(Path.of("..", module, "src"))) {
        for (Path path : paths.filter(path -> path.toString().endsWith(".java")).toList()) {
          files++;
          long lines = Files.readAllLines(path).size();
          if (lines > LONGEST) {
            tooLong.add(path + ": " + lines);
          }
        }
      }
    }
    assertTrue(files > 300, files + " files");
    assertEquals(List.of(), tooLong);
  }

  /** A name says which type is meant, whatever its package and however few may see it. */
  @Test
  void noTwoTypesHaveTheSameName() throws IOException {
    Map<String, Path> seen = new LinkedHashMap<>();
    List<String> twice = new ArrayList<>();
    for (String module : List.of("models", "harness", "rtl-samples")) {
      for (Path path : SourceRulesTest.sources(Path.of("..", module, "src", "main", "java"))) {
        String name = path.getFileName().toString();
        if (!name.matches("(package|module)-info.java") && seen.put(name, path) != null) {
          twice.add(path.toString());
        }
      }
    }
    assertTrue(seen.size() > 400, seen.size() + " types");
    assertEquals(List.of(), twice);
  }

  @Test
  void onlyToolchainStartsProcesses() {
    noClasses()
        .that()
        .resideOutsideOfPackage("..plumbline.toolchain..")
        .should()
        .dependOnClassesThat()
        .haveFullyQualifiedName("java.lang.ProcessBuilder")
        .check(CODE);
    noClasses()
        .should()
        .callMethodWhere(
            JavaCall.Predicates.target(
                com.tngtech.archunit.core.domain.properties.HasName.Predicates.name("exec")))
        .check(CODE);
  }

  @Test
  void onlyCosimTouchesJna() {
    noClasses()
        .that()
        .resideOutsideOfPackage("..plumbline.cosim..")
        .should()
        .dependOnClassesThat()
        .resideInAPackage("com.sun.jna..")
        .check(CODE);
  }

  /** What makes, fills, moves or removes files; streams and channels by how they are opened. */
  private static final DescribedPredicate<JavaCall<?>> WRITES_FILES =
      DescribedPredicate.describe(
          "write files",
          call -> {
            String owner = call.getTargetOwner().getName();
            String name = call.getTarget().getName();
            boolean opens = name.equals("<init>") || name.equals("open");
            return switch (owner) {
              case "java.nio.file.Files" ->
                  name.matches(
                      "(write|create|copy|move|delete|set|newOutput|newBufferedW|newByteC).*");
              case "java.io.File" -> name.matches("(create|delete|mkdir|rename|set).*");
              case "java.io.FileOutputStream",
                  "java.io.FileWriter",
                  "java.io.RandomAccessFile",
                  "java.nio.channels.FileChannel",
                  "java.nio.channels.AsynchronousFileChannel" ->
                  opens;
              case "java.io.PrintStream", "java.io.PrintWriter", "java.util.Formatter" ->
                  opens
                      && call.getTarget().getRawParameterTypes().stream()
                          .limit(1)
                          .anyMatch(
                              first ->
                                  first.isEquivalentTo(String.class)
                                      || first.isEquivalentTo(java.io.File.class));
              default -> false;
            };
          });

  private static ArchRule noPackageWritesFilesBut(String... packages) {
    return noClasses()
        .that()
        .resideOutsideOfPackages(packages)
        .should()
        .callCodeUnitWhere(WRITES_FILES);
  }

  @Test
  void onlyEvidenceAndReportAndTheCacheWriteFiles() {
    noPackageWritesFilesBut(
            "..plumbline.evidence..", "..plumbline.report..", "..plumbline.toolchain..")
        .check(CODE);
  }

  @Test
  void whoeverWritesFilesIsNoticed() {
    assertThrows(
        AssertionError.class, () -> noPackageWritesFilesBut("..plumbline.toolchain..").check(CODE));
    for (Class<?> writer : List.of(ByStream.class, ByName.class, ByFiles.class)) {
      JavaClasses alone = new ClassFileImporter().importClasses(writer);
      assertThrows(
          AssertionError.class, () -> noPackageWritesFilesBut().check(alone), writer::getName);
    }
  }

  /** Writes as no package but a few may. */
  static final class ByStream {
    static void write() throws java.io.IOException {
      new java.io.FileOutputStream("reports").close();
    }
  }

  /** Writes as no package but a few may. */
  static final class ByName {
    static void write() throws java.io.IOException {
      new java.io.PrintWriter("reports", java.nio.charset.StandardCharsets.UTF_8).close();
    }
  }

  /** Writes as no package but a few may. */
  static final class ByFiles {
    static void write() throws java.io.IOException {
      java.nio.file.Files.writeString(java.nio.file.Path.of("reports"), "");
    }
  }

  @Test
  void exceptionsAreOneFamilyAndThatOfTheModels() {
    classes()
        .that()
        .areAssignableTo(Throwable.class)
        .and()
        .resideInAPackage("dev.plumbline.models..")
        .should()
        .beAssignableTo("dev.plumbline.models.ModelException")
        .check(CODE);
    classes()
        .that()
        .areAssignableTo(Throwable.class)
        .and()
        .resideOutsideOfPackage("dev.plumbline.models..")
        .and()
        .areNotAssignableTo(IOException.class) // between two packages; no user meets it
        .should()
        .beAssignableTo(PlumblineException.class)
        .check(CODE);
  }
}
