package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** Memory files that a model reads, files that it writes, and what it does as it is closed. */
@Execution(ExecutionMode.CONCURRENT)
class FilesAndFinalBlocksTest {
  private static final CompiledDesign MODEL = Driven.model("night_watch");
  private static final DutOptions ONES = DutOptions.defaults().withInitialState(InitialState.ONES);

  private static void order(Dut dut, int order, int who) {
    dut.set("order", order);
    dut.set("who", who);
    dut.cycle();
    dut.set("order", 0);
  }

  private static long shown(Dut dut, int place) {
    dut.set("place", place);
    dut.settle();
    return dut.get("shown");
  }

  @Test
  void aMemoryFileFillsThePlacesItNames() {
    try (Dut dut = MODEL.open()) {
      order(dut, 3, 0);
      for (int place = 0; place < 32; place++) {
        boolean named = place >= 5 && place < 17;
        assertEquals(named ? 1023 - 3 * (place - 5) : 0, shown(dut, place), "place " + place);
      }
    }
  }

  @Test
  void aMissingMemoryFileEndsTheModel() {
    try (Dut dut = MODEL.open()) {
      DutEndedException e = assertThrows(DutEndedException.class, () -> order(dut, 2, 0));
      assertEquals(DutEndedException.Kind.MEMORY_FILE, e.kind());
      assertTrue(e.getMessage().contains("nobody_wrote_this.hex"), e.getMessage());
      String looked = ". Looked in " + Path.of("").toAbsolutePath() + ", ";
      assertTrue(e.getMessage().contains(looked), e.getMessage());
      assertTrue(e.location().toString().endsWith("night_watch.sv:32"), e.getMessage());
    }
  }

  @Test
  void aMissingMemoryFileLeavesTheMemoryWhereThatIsAllowed() {
    try (Dut dut = MODEL.open(ONES.withMissingMemoryFilesAllowed())) {
      order(dut, 2, 0);
      assertEquals(1023, shown(dut, 7));
      assertTrue(dut.text().contains("nobody_wrote_this.hex"), dut.text());
    }
  }

  @Test
  void aMemoryFileThatCannotBeReadIsAnErrorInAnyCase() {
    try (Dut dut = MODEL.open(ONES.withMissingMemoryFilesAllowed())) {
      DutEndedException e = assertThrows(DutEndedException.class, () -> order(dut, 4, 0));
      assertEquals(DutEndedException.Kind.MEMORY_FILE, e.kind());
    }
    try (Dut dut = MODEL.open()) {
      order(dut, 3, 0);
      assertEquals(1023, shown(dut, 5), "the next one reads its own");
    }
  }

  @Test
  void filesThatAModelLeavesOpenAreWrittenAndClosedWithIt() throws IOException {
    for (int who : new int[] {901, 902}) {
      Path book = Path.of("target/night_watch_" + who + ".txt");
      Dut dut = MODEL.open();
      order(dut, 5, who);
      order(dut, 6, who);
      if (who == 902) {
        order(dut, 9, who); // closes the book itself
      }
      dut.close();
      assertEquals("all is quiet, says " + who + "\n", Files.readString(book));
      assertFalse(Descriptors.open(book.toString()));
    }
  }

  @Test
  void aForgottenModelIsFreed() throws Exception {
    for (int who = 910; who < 920; who++) {
      forget(who);
    }
    for (int who = 910; who < 920; who++) {
      Path book = Path.of("target/night_watch_" + who + ".txt");
      // The limit only ends a test that has failed; a collection or two are enough.
      for (int i = 0; i < 1000 && Descriptors.open(book.toString()); i++) {
        System.gc();
        Thread.sleep(10);
      }
      assertFalse(Descriptors.open(book.toString()), "still open: " + book);
      assertEquals("all is quiet, says " + who + "\n", Files.readString(book));
    }
  }

  private static void forget(int who) {
    Dut dut = MODEL.open();
    order(dut, 5, who);
    order(dut, 6, who);
    assertTrue(Descriptors.open("target/night_watch_" + who + ".txt"));
  }

  @Test
  void aFinalBlockThatDoesNotEndIsCancelled() {
    Dut dut = MODEL.open(DutOptions.defaults().withTimeout(Duration.ofMillis(200)));
    order(dut, 7, 0);
    assertThrows(DutHungException.class, dut::close);
    dut.close();
    try (Dut next = MODEL.open()) {
      next.cycles(3);
      assertEquals(3, next.cyclesRun());
    }
  }

  @Test
  void aFinalBlockThatFailsIsReportedByClose() {
    Dut dut = MODEL.open();
    order(dut, 10, 0);
    DutEndedException e = assertThrows(DutEndedException.class, dut::close);
    assertEquals(DutEndedException.Kind.FATAL, e.kind());
    assertTrue(e.reason().startsWith("the lamp is still on"), e.reason());
    assertThrows(IllegalStateException.class, dut::text);
  }

  @Test
  void aFinalBlockMayFinish() {
    Dut dut = MODEL.open();
    order(dut, 8, 0);
    dut.close();
  }
}
