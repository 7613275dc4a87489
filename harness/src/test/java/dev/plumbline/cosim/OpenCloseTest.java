package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.JavaFork;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** Ten thousand models opened and closed leave nothing behind. */
@Tag("thorough")
@Execution(ExecutionMode.CONCURRENT)
class OpenCloseTest {
  @Test
  void memoryMappingsAndFilesStayFlat() throws Exception {
    List<String> heap = List.of("-Xms48m", "-Xmx48m", "-XX:+AlwaysPreTouch");
    try (JavaFork fork = new JavaFork(ManyOpenings.class, heap)) {
      List<String> grown = fork.lines();
      // Less than a kilobyte for each; the smallest model has several.
      assertTrue(Long.parseLong(grown.get(0)) < 8_000, "KiB of memory: " + grown.get(0));
      assertTrue(Long.parseLong(grown.get(1)) < 20, "mappings: " + grown.get(1));
      assertTrue(Long.parseLong(grown.get(2)) < 5, "open files: " + grown.get(2));
    }
  }
}
