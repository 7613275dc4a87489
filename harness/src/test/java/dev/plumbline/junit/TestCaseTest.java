package dev.plumbline.junit;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class TestCaseTest {
  @TempDir private Path folder;

  private static TestCase test(String className, String method, String invocation) {
    return new TestCase("museum", className, method, "()", invocation);
  }

  @Test
  void inAModuleOfItsOwnTheCommandNamesTheTestAndTheSeed() {
    assertEquals(
        "mvn test -Dtest=BellTest#strikes -Dplumbline.seed=7",
        test("BellTest", "strikes", "").command(folder, 7));
    assertEquals(
        "mvn test -Dtest=BellTest -Dplumbline.seed=7", test("BellTest", "", "").command(folder, 7));
  }

  @Test
  void inAModuleOfSeveralTheCommandRunsFromTheOutermost() throws IOException {
    Path module = Files.createDirectories(folder.resolve("clock").resolve("bells"));
    Files.writeString(folder.resolve("pom.xml"), "");
    Files.writeString(folder.resolve("clock").resolve("pom.xml"), "");
    Files.writeString(module.resolve("pom.xml"), "");

    assertEquals(
        "mvn test -pl clock/bells -am -Dsurefire.failIfNoSpecifiedTests=false"
            + " -Dtest=BellTest#strikes -Dplumbline.invocation=2 -Dplumbline.seed=-1",
        test("BellTest", "strikes", "[2]").command(module, -1));
  }

  @Test
  void aNestedClassIsQuotedForTheShell() {
    assertEquals(
        "mvn test -Dtest='BellTest$Inside#strikes' -Dplumbline.seed=1",
        test("BellTest$Inside", "strikes", "").command(folder, 1));
  }

  @Test
  void namesTellInvocationsAndOverloadsApart() {
    TestCase test = new TestCase("museum", "BellTest", "strikes", "(int)", "[2][3]");
    assertEquals("BellTest.strikes[2][3]", test.name());
    assertEquals("museum.BellTest.strikes(int)[2][3]", test.fullName());
  }
}
