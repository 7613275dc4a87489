package dev.plumbline.toolchain;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotNull;

import com.sun.jna.NativeLibrary;
import dev.plumbline.JavaFork;
import dev.plumbline.rtl.RtlSource;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** Several processes at one cache: at the same time, and after one of them was killed. */
@Tag("thorough")
@Execution(ExecutionMode.CONCURRENT)
class SharedCacheTest {
  private static final Path GEAR_TRAIN = Path.of("src/test/rtl/gear_train.sv");

  @TempDir private Path folder;
  private Path cache;

  @BeforeEach
  void aCache() throws IOException {
    cache = CacheInTest.at(folder);
    CacheFolder.at(cache);
  }

  @AfterEach
  void partFromTheSharedCache() throws IOException {
    CacheInTest.leave(cache);
  }

  private JavaFork builder(int steps) throws IOException {
    return new JavaFork(
        BuildOnce.class,
        List.of("-Dplumbline.cache=" + cache),
        GEAR_TRAIN.toString(),
        Integer.toString(steps));
  }

  @Test
  void twoThatBuildTheSameAtOnceShareOneEntry() throws Exception {
    try (JavaFork first = builder(11);
        JavaFork second = builder(11)) {
      first.go();
      second.go();
      List<String> one = first.lines();
      List<String> two = second.lines();

      assertEquals(one, two);
      assertEquals("33", one.get(2), "three cycles of eleven steps");
      assertEquals(List.of(Path.of(one.get(1))), CacheInTest.entries(cache, "libraries"));
      assertEquals(2, CacheInTest.entries(cache, "elaborated").size(), "a record, a description");
      assertEquals(List.of(), CacheInTest.entries(cache, "work"));
    }
  }

  /** Where a builder is when something first appears in the cache. */
  private boolean appeared(String where) throws IOException {
    String[] parts = where.split("/", 2);
    try (Stream<Path> entries = Files.list(cache.resolve(parts[0]))) {
      for (Path entry : entries.toList()) {
        if (parts.length == 1 || Files.exists(entry.resolve(parts[1]))) {
          return true;
        }
      }
    }
    return false;
  }

  @Test
  void aBuilderThatIsKilledAtAnyMomentHindersNobody() throws Exception {
    List<String> moments =
        Boolean.getBoolean("plumbline.long")
            ? List.of("work", "work/cc/unit.cpp", "work/cc/model.so", "libraries")
            : List.of("work/cc/unit.cpp", "libraries");
    for (int i = 0; i < moments.size(); i++) {
      int steps = 100 + i;
      try (JavaFork killed = builder(steps)) {
        killed.go();
        while (killed.alive() && !appeared(moments.get(i))) {
          Thread.sleep(1);
        }
        killed.kill();
      }
      RtlSource source = RtlSource.of(GEAR_TRAIN).withParameter("Steps", "" + steps);
      DesignLibrary library = CacheInTest.find(cache, source);
      assertEquals(List.of(library.file()), CacheInTest.entries(cache, "libraries"));
      assertEquals(
          0,
          ProcessCount.during(() -> CacheInTest.find(cache, source)).commands().size(),
          "known after " + moments.get(i));
      assertNotNull(NativeLibrary.getInstance(library.file().toString()).getFunction("plumb_open"));
      Files.delete(library.file());
    }
  }
}
