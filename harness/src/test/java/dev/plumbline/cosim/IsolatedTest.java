package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.JavaFork;
import dev.plumbline.rtl.RtlException;
import dev.plumbline.rtl.RtlSource;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** A model in a process of its own: whatever it does there is an exception here. */
@Execution(ExecutionMode.CONCURRENT)
class IsolatedTest {
  private static final Path FOLDER = Path.of("src/test/rtl/driven");
  private static final CompiledDesign MODEL =
      CompiledDesign.of(
          RtlSource.of(FOLDER.resolve("strong_room.sv"), FOLDER.resolve("strong_room.c"))
              .withTop("strong_room"));
  private static final DutOptions QUICK = DutOptions.defaults().withTimeout(Duration.ofMillis(400));
  private static final DutOptions ALONE = DutOptions.defaults().withIsolated(true);

  @Test
  void importedFunctionsAreCalled() {
    try (Dut dut = MODEL.open()) {
      dut.set("amount", 77);
      dut.cycles(3);
      assertEquals(231, dut.get("weighed"));
      assertEquals(3, dut.cyclesRun());
      assertEquals("seventy-seven is heavy\n".repeat(3), dut.text());
    }
  }

  @Test
  @Tag("thorough")
  void importedFunctionsWithoutAFileAreARefusalThatSaysSo() {
    RtlSource alone = RtlSource.of(FOLDER.resolve("strong_room.sv")).withTop("strong_room");
    RtlException e = assertThrows(RtlException.class, () -> CompiledDesign.of(alone));
    assertTrue(e.getMessage().contains("name the C files that have them"), e.getMessage());
  }

  @ParameterizedTest
  @CsvSource({
    "1, 6, signal 6 (SIGABRT)",
    "3, 11, signal 11 (SIGSEGV)",
    "4, -1, exit status 3",
    "5, 11, 'its stack of 256 MB is full, as by a recursion without end'",
  })
  void aCrashIsAnExceptionAndTheNextModelRuns(int order, int signal, String reported) {
    try (Dut dut = MODEL.open()) {
      dut.set("order", 8);
      dut.cycles(3);
      dut.set("order", order);
      DutEndedException e = assertThrows(DutEndedException.class, dut::cycle);
      assertEquals(DutEndedException.Kind.CRASHED, e.kind());
      assertTrue(e.reason().contains(reported), e.reason());
      assertEquals(3, e.cycle());
      assertEquals(signal < 0 ? Optional.empty() : Optional.of(signal), e.signal());
      assertEquals("the door says 0\n".repeat(3), e.text());
      assertThrows(DutEndedException.class, dut::cycle);
      assertEquals(3, dut.cyclesRun());
    }
    importedFunctionsAreCalled();
  }

  @ParameterizedTest
  @ValueSource(ints = {2, 6, 7})
  void aHangIsAnExceptionAndTheNextModelRuns(int order) throws Exception {
    if (order == 6) {
      Pipes.make(Path.of("target/strong_room.fifo"));
    }
    try (Dut dut = MODEL.open(QUICK)) {
      dut.set("order", 8);
      dut.cycles(2);
      dut.set("amount", 1);
      dut.set("order", order);
      DutHungException e = assertThrows(DutHungException.class, dut::cycle);
      assertEquals(2, e.cycle());
      assertEquals("the door says 0\n".repeat(2), e.text());
    }
    importedFunctionsAreCalled();
  }

  @Test
  void aCrashWithinABatchLeavesTheRowsBeforeIt() {
    try (Dut dut = MODEL.open()) {
      Batch batch = dut.batch(100);
      batch.column("order")[40] = 1;
      java.util.Arrays.setAll(batch.column("amount"), row -> row);
      assertThrows(DutEndedException.class, () -> dut.run(batch, 100));
      for (int row = 1; row < 40; row++) {
        assertEquals(3L * (row - 1), batch.column("weighed")[row], "row " + row);
      }
    }
  }

  @Test
  void anyDesignRunsAloneAsItRunsHere() {
    CompiledDesign house = Driven.model("night_watch");
    try (Dut here = house.open(DutOptions.defaults().withIsolated(false).withSeed(5));
        Dut alone = house.open(ALONE.withSeed(5))) {
      SplittableRandom random = new SplittableRandom(5);
      for (Dut dut : List.of(here, alone)) {
        dut.set("order", 1);
        dut.set("who", 12);
      }
      for (int i = 0; i < 20; i++) {
        int rows = 1 + random.nextInt(500);
        Batch ours = here.batch(rows);
        Batch theirs = alone.batch(rows);
        assertEquals(here.run(ours, rows), alone.run(theirs, rows));
        assertArrayEquals(ours.column("drawn"), theirs.column("drawn"));
      }
      here.cycles(7);
      alone.cycles(7);
      assertEquals(here.get("drawn"), alone.get("drawn"));
      assertEquals(here.cyclesRun(), alone.cyclesRun());
      assertEquals(here.text(), alone.text());
    }
  }

  @Test
  void anEndOfItsOwnIsTheSameAlone() {
    try (Dut dut =
        CompiledDesign.of(
                RtlSource.of(Path.of("src/test/rtl/alarm_panel.sv")).withTop("alarm_panel"))
            .open(ALONE)) {
      dut.cycles(3);
      dut.set("alarm", 6);
      dut.set("amount", 7);
      DutEndedException e = assertThrows(DutEndedException.class, dut::cycle);
      assertEquals(DutEndedException.Kind.ASSERTION, e.kind());
      assertEquals(3, e.cycle());
      assertTrue(e.location().file().endsWith("alarm_panel.sv"), e.location().toString());
    }
  }

  @Test
  @Tag("thorough")
  void processesAndDescriptorsGoWithTheModel() throws Exception {
    try (JavaFork fork = new JavaFork(ManyIsolated.class, List.of())) {
      assertEquals(List.of("0", "0"), fork.lines());
    }
  }

  @Test
  @Tag("thorough")
  void theProcessEndsWhenTheJvmIsKilled() throws Exception {
    try (JavaFork fork = new JavaFork(EndlessIsolated.class, List.of())) {
      long pid = Long.parseLong(fork.line());
      ProcessHandle host = ProcessHandle.of(pid).orElseThrow();
      assertTrue(host.isAlive());
      fork.kill();
      // The limit only ends a test that has failed.
      for (int i = 0; i < 2000 && host.isAlive(); i++) {
        Thread.sleep(10);
      }
      assertFalse(host.isAlive(), "process " + pid + " outlives the JVM");
    }
  }
}
