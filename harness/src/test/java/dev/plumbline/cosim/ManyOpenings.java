package dev.plumbline.cosim;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/**
 * Opens and closes a model ten thousand times; prints by how many KiB of memory, mappings and open
 * files the process has grown meanwhile.
 */
public final class ManyOpenings {
  private static final int PAGE_KIB = 4;

  private ManyOpenings() {}

  public static void main(String[] arguments) throws IOException {
    CompiledDesign model = Driven.model("night_watch");
    open(model, 3_000);
    long[] before = size();
    open(model, 10_000);
    long[] after = size();
    for (int i = 0; i < before.length; i++) {
      System.out.println(after[i] - before[i]);
    }
  }

  private static void open(CompiledDesign model, int times) {
    for (int i = 0; i < times; i++) {
      try (Dut dut = model.open()) {
        dut.set("order", 1);
        dut.cycles(3);
        Batch batch = dut.batch(16);
        batch.column("drawn");
        dut.run(batch, 16);
        if (i % 16 == 0 && dut.text().isEmpty()) {
          throw new AssertionError("it prints each cycle");
        }
        dut.set("order", i % 8 == 0 ? 2 : 5);
        dut.cycle();
      } catch (DutEndedException e) {
        // Every eighth finds no memory file and ends; it has to be freed as well.
      }
    }
  }

  private static long[] size() throws IOException {
    System.gc();
    long pages = Long.parseLong(Files.readString(Path.of("/proc/self/statm")).split(" ", -1)[1]);
    long maps = Files.readAllLines(Path.of("/proc/self/maps")).size();
    return new long[] {pages * PAGE_KIB, maps, Descriptors.all().size()};
  }
}
