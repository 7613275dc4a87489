package dev.plumbline;

import static org.junit.jupiter.api.Assertions.assertEquals;

import com.tngtech.archunit.core.domain.JavaModifier;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;

/** The public types of both libraries, so that growth of the API is seen in review. */
class PublicTypesTest {
  private static final Path GOLDEN = Path.of("src/test/resources/public-types.txt");

  @Test
  void publicTypesAreThoseOnTheList() throws IOException {
    List<String> found =
        new ClassFileImporter()
                .withImportOption(ImportOption.Predefined.DO_NOT_INCLUDE_TESTS)
                .importPackages("dev.plumbline")
                .stream()
                .filter(type -> type.getModifiers().contains(JavaModifier.PUBLIC))
                .map(type -> type.getName())
                .sorted()
                .toList();
    assertEquals(
        String.join("\n", Files.readAllLines(GOLDEN)),
        String.join("\n", found),
        "the public types changed; if that is meant, change " + GOLDEN + " to the second list");
  }
}
