package dev.plumbline;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

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
            "rtl",
            "build",
            "cosim",
            "check",
            "stimulus",
            "evidence",
            "report",
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
            .resideInAPackage("..build..");
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
        .resideInAnyPackage("..plumbline.rtl..", "..plumbline.build..")
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
  void onlyBuildStartsProcesses() {
    noClasses()
        .that()
        .resideOutsideOfPackage("..plumbline.build..")
        .should()
        .dependOnClassesThat()
        .haveFullyQualifiedName("java.lang.ProcessBuilder")
        .check(HOUSE);
    noClasses()
        .should()
        .callMethodWhere(
            com.tngtech.archunit.core.domain.JavaCall.Predicates.target(
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

  @Test
  void onlyEvidenceAndReportKnowTheFolderOfReports() {
    noClasses()
        .that()
        .resideOutsideOfPackages("..plumbline.evidence..", "..plumbline.report..")
        .and()
        .resideOutsideOfPackages("..plumbline.build..")
        .should()
        .callMethod(
            java.nio.file.Files.class,
            "createDirectories",
            java.nio.file.Path.class,
            java.nio.file.attribute.FileAttribute[].class)
        .check(HOUSE);
  }

  @Test
  void roomsFormNoCycle() {
    slices().matching("dev.plumbline.(**)").should().beFreeOfCycles().check(HOUSE);
  }
}
