package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.rtl.RtlSource;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** Models of many designs, versions and threads in one JVM: none sees anything of another. */
@Execution(ExecutionMode.CONCURRENT)
class SideBySideTest {
  private static final int CYCLES = 500;

  @TempDir private Path folder;

  /** One cycle of a gear train of so many steps, turned by 1. */
  private static void turn(Dut dut, int steps) {
    dut.set("in_valid", 1);
    dut.set("in_step", 1);
    long before = dut.get("out_angle");
    dut.cycle();
    assertEquals(dut.cyclesRun() < 2 ? 0 : before + steps, dut.get("out_angle"));
  }

  @Test
  @Tag("thorough")
  void twoVersionsOfOneFileEachKeepTheirOwnBehaviour() throws IOException {
    Path file = folder.resolve("gear_train.sv");
    String text = Files.readString(Path.of("src/test/rtl/gear_train.sv"));
    Files.writeString(file, text);
    CompiledDesign three = CompiledDesign.of(RtlSource.of(file));
    try (Dut old = three.open()) {
      turn(old, 3);
      Files.writeString(file, text.replace("Steps = 3", "Steps = 5"));
      CompiledDesign five = CompiledDesign.of(RtlSource.of(file));
      assertNotEquals(three.contentHash(), five.contentHash());
      try (Dut dut = five.open();
          Dut another = three.open()) {
        for (int i = 0; i < 20; i++) {
          turn(old, 3);
          turn(dut, 5);
          turn(another, 3);
        }
      }
      Files.writeString(file, text);
      CompiledDesign again = CompiledDesign.of(RtlSource.of(file));
      assertEquals(three.contentHash(), again.contentHash());
      try (Dut dut = again.open()) {
        turn(dut, 3);
        turn(dut, 3);
      }
    }
  }

  /** What one watchman alone draws and prints. */
  private static List<String> watch(Dut dut, int who) {
    List<String> drawn = new ArrayList<>();
    dut.set("order", 1);
    dut.set("who", who);
    for (int cycle = 0; cycle <= CYCLES; cycle++) {
      dut.cycle();
      if (cycle > 0) {
        drawn.add(Integer.toUnsignedString((int) dut.get("drawn"), 16));
      }
    }
    String[] printed = dut.text().split("\n", -1);
    for (int i = 0; i < drawn.size(); i++) {
      String number = "0".repeat(8 - drawn.get(i).length()) + drawn.get(i);
      assertEquals(who + " drew " + number, printed[i]);
    }
    return drawn;
  }

  @Test
  void threadsOfOneModelAndOfAnotherDoNotMeet() throws Exception {
    CompiledDesign night = Driven.model("night_watch");
    CompiledDesign chest = Driven.model("chest_types", "chest");
    List<List<String>> alone = new ArrayList<>();
    for (int who = 0; who < 6; who++) {
      try (Dut dut = night.open(DutOptions.defaults().withSeed(who))) {
        alone.add(watch(dut, who));
      }
    }
    ExecutorService threads = Executors.newFixedThreadPool(6);
    try {
      List<Callable<List<String>>> watches = new ArrayList<>();
      for (int i = 0; i < 12; i++) {
        int who = i % 6;
        watches.add(
            () -> {
              try (Dut dut = night.open(DutOptions.defaults().withSeed(who));
                  Dut neighbour = chest.open()) {
                neighbour.set("in_s5", who);
                List<String> drawn = watch(dut, who);
                neighbour.cycles(10);
                assertEquals(who, neighbour.get("out_s5"));
                return drawn;
              }
            });
      }
      List<Future<List<String>>> results = threads.invokeAll(watches);
      for (int i = 0; i < results.size(); i++) {
        assertEquals(alone.get(i % 6), results.get(i).get(), "watch " + i);
      }
    } finally {
      threads.shutdown();
    }
    assertTrue(alone.stream().distinct().count() == 6, "each seed draws its own");
  }

  @Test
  void oneDutIsSharedByThreadsOneCallAtATime() throws Exception {
    try (Dut dut = Driven.model("night_watch").open()) {
      ExecutorService threads = Executors.newFixedThreadPool(4);
      List<Callable<Void>> calls = new ArrayList<>();
      for (int i = 0; i < 4; i++) {
        calls.add(
            () -> {
              for (int n = 0; n < 1000; n++) {
                dut.cycle();
              }
              return null;
            });
      }
      for (Future<Void> call : threads.invokeAll(calls)) {
        call.get();
      }
      threads.shutdown();
      assertEquals(4000, dut.cyclesRun());
      dut.cycle();
      assertEquals(4000 % 256, dut.get("rounds"));
    }
  }
}
