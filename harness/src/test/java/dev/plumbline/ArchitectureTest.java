package dev.plumbline;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.JavaCall;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.lang.ArchRule;
import java.util.List;
import org.junit.jupiter.api.Test;

/** Who may use whom: the rooms of the house and the things that each of them never does. */
class ArchitectureTest {
  private static final String[] CHECKING = {
    "..plumbline.check..",
    "..plumbline.stimulus..",
    "..plumbline.evidence..",
    "..plumbline.report..",
    "..plumbline.verdict..",
    "..plumbline.contract..",
    "..plumbline.run..",
    "..plumbline.blocks..",
    "..plumbline.wiring..",
    "..plumbline.cases..",
    "..plumbline.coverage..",
    "..plumbline.lockstep..",
    "..plumbline.junit..",
    "..plumbline.cli.."
  };

  private static final JavaClasses HOUSE =
      new ClassFileImporter()
          .withImportOption(ImportOption.Predefined.DO_NOT_INCLUDE_TESTS)
          .importPackages("dev.plumbline");

  @Test
  void everyRoomWasFound() {
    for (String room :
        List.of(
            "models.fixed",
            "models.datapath",
            "models.unit",
            "models.solid",
            "models.scene",
            "models.program",
            "models.span",
            "models.traversal",
            "models.text",
            "rtl",
            "toolchain",
            "cosim",
            "check",
            "stimulus",
            "evidence",
            "report",
            "verdict",
            "contract",
            "run",
            "blocks",
            "wiring",
            "cases",
            "coverage",
            "lockstep",
            "junit",
            "cli")) {
      long found =
          HOUSE.stream()
              .filter(type -> type.getPackageName().equals("dev.plumbline." + room))
              .count();
      assertTrue(found >= 3, room + " has " + found + " classes");
    }
  }

  @Test
  void aBrokenRuleIsNoticed() {
    ArchRule wrong =
        noClasses()
            .that()
            .resideInAPackage("..cosim..")
            .should()
            .accessClassesThat()
            .resideInAPackage("..toolchain..");
    assertThrows(AssertionError.class, () -> wrong.check(HOUSE));
  }

  @Test
  void modelsKnowNothingButJava() {
    classes()
        .that()
        .resideInAPackage("dev.plumbline.models..")
        .should()
        .onlyDependOnClassesThat()
        .resideInAnyPackage("dev.plumbline.models..", "java..")
        .check(HOUSE);
  }

  @Test
  void rtlAndBuildKnowNothingOfChecks() {
    noClasses()
        .that()
        .resideInAnyPackage("..plumbline.rtl..", "..plumbline.toolchain..")
        .should()
        .dependOnClassesThat()
        .resideInAnyPackage(CHECKING)
        .check(HOUSE);
  }

  @Test
  void cosimKnowsNoReferenceModelAndNoCheck() {
    noClasses()
        .that()
        .resideInAPackage("..plumbline.cosim..")
        .should()
        .dependOnClassesThat()
        .resideInAPackage("dev.plumbline.models..")
        .check(HOUSE);
    noClasses()
        .that()
        .resideInAPackage("..plumbline.cosim..")
        .should()
        .dependOnClassesThat()
        .resideInAnyPackage(CHECKING)
        .check(HOUSE);
  }

  @Test
  void checksKnowNothingOfReadyMadeBenches() {
    noClasses()
        .that()
        .resideOutsideOfPackages("..plumbline.blocks..", "..plumbline.cli..")
        .should()
        .dependOnClassesThat()
        .resideInAPackage("..plumbline.blocks..")
        .check(HOUSE);
  }

  @Test
  void onlyBuildStartsProcesses() {
    noClasses()
        .that()
        .resideOutsideOfPackage("..plumbline.toolchain..")
        .should()
        .dependOnClassesThat()
        .haveFullyQualifiedName("java.lang.ProcessBuilder")
        .check(HOUSE);
    noClasses()
        .should()
        .callMethodWhere(
            JavaCall.Predicates.target(
                com.tngtech.archunit.core.domain.properties.HasName.Predicates.name("exec")))
        .check(HOUSE);
  }

  @Test
  void onlyCosimTouchesJna() {
    noClasses()
        .that()
        .resideOutsideOfPackage("..plumbline.cosim..")
        .should()
        .dependOnClassesThat()
        .resideInAPackage("com.sun.jna..")
        .check(HOUSE);
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

  private static ArchRule noRoomWritesFilesBut(String... rooms) {
    return noClasses()
        .that()
        .resideOutsideOfPackages(rooms)
        .should()
        .callCodeUnitWhere(WRITES_FILES);
  }

  @Test
  void onlyEvidenceAndReportAndTheBuildsCacheWriteFiles() {
    noRoomWritesFilesBut(
            "..plumbline.evidence..", "..plumbline.report..", "..plumbline.toolchain..")
        .check(HOUSE);
  }

  @Test
  void whoeverWritesFilesIsNoticed() {
    assertThrows(
        AssertionError.class, () -> noRoomWritesFilesBut("..plumbline.toolchain..").check(HOUSE));
    for (Class<?> writer : List.of(ByStream.class, ByName.class, ByFiles.class)) {
      JavaClasses alone = new ClassFileImporter().importClasses(writer);
      assertThrows(
          AssertionError.class, () -> noRoomWritesFilesBut().check(alone), writer::getName);
    }
  }

  /** Writes as no room but a few may. */
  static final class ByStream {
    static void write() throws java.io.IOException {
      new java.io.FileOutputStream("reports").close();
    }
  }

  /** Writes as no room but a few may. */
  static final class ByName {
    static void write() throws java.io.IOException {
      new java.io.PrintWriter("reports", java.nio.charset.StandardCharsets.UTF_8).close();
    }
  }

  /** Writes as no room but a few may. */
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
        .check(HOUSE);
    classes()
        .that()
        .areAssignableTo(Throwable.class)
        .and()
        .resideOutsideOfPackage("dev.plumbline.models..")
        .should()
        .beAssignableTo(PlumblineException.class)
        .check(HOUSE);
  }

  @Test
  void roomsFormNoCycle() {
    slices().matching("dev.plumbline.(**)").should().beFreeOfCycles().check(HOUSE);
  }
}
