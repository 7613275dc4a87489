package dev.plumbline.toolchain;

import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.JavaFork;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A user whose language writes numbers in digits of its own. */
@Tag("thorough")
class LocaleTest {
  @TempDir private Path folder;

  @Test
  void aDesignIsBuiltAndRunWhereNumbersHaveOtherDigits() throws Exception {
    Path cache = CacheInTest.at(folder);
    try (JavaFork fork =
        new JavaFork(
            BuildOnce.class,
            List.of("-Dplumbline.cache=" + cache, "-Duser.language=ar", "-Duser.country=EG"),
            "src/test/rtl/gear_train.sv",
            "8")) {
      fork.go();
      List<String> lines = fork.lines();
      assertEquals("ready", lines.get(0));
      assertEquals("24", lines.get(2), "three turns of eight steps");
    } finally {
      CacheInTest.leave(cache);
    }
  }
}
