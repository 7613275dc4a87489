package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.JavaFork;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** Descriptors never opened, names and texts without end, pipes: none may end or stop a JVM. */
@Tag("thorough")
@Execution(ExecutionMode.CONCURRENT)
class FilesInProcessTest {
  private static final CompiledDesign MODEL = Driven.model("reading_room");
  // By itself it would have a process of its own.
  private static final DutOptions HERE = DutOptions.defaults().withIsolated(false);

  @BeforeAll
  static void aPipeThatNobodyWrites() throws IOException, InterruptedException {
    Pipes.make(Path.of("target/reading_room.fifo"));
  }

  // 0x80000000 marks a file descriptor, any other number is a set of channels.
  private static final Map<String, String> REPORTED = new LinkedHashMap<>();

  static {
    for (String number : List.of("0", "8", "2147483656", "2147483700", "4294967295")) {
      REPORTED.put("1:" + number, "given 0");
    }
    REPORTED.put("2:2147483656", "given 0");
    REPORTED.put("2:64", "given 0");
    REPORTED.put("3:0", "given 0");
    REPORTED.put("4:0", "could not read a memory file");
    REPORTED.put("5:0", "131072 characters to $sscanf; allowed is at most 8191");
    REPORTED.put("6:0", "reading_room.fifo was not opened: it is no regular file");
    REPORTED.put("7:0", "reading_room.fifo was not opened: it is no regular file");
    REPORTED.put("11:2147483656", "given 4294967295");
    REPORTED.put("12:2147483656", "given 4294967295");
    REPORTED.put("13:2147483656", "given 0");
  }

  @Test
  void noOrderTakesTheJvmWithIt() throws Exception {
    String[] orders = REPORTED.keySet().toArray(String[]::new);
    try (JavaFork fork = new JavaFork(ReadingRoom.class, List.of(), orders)) {
      List<String> lines = fork.lines();
      for (int i = 0; i < orders.length; i++) {
        String line = lines.get(i);
        assertTrue(line.startsWith(orders[i] + " "), line);
        assertTrue(line.contains(REPORTED.get(orders[i])), line);
      }
    }
  }

  private static long given(Dut dut, int order) {
    dut.set("order", order);
    dut.cycles(2);
    return dut.get("given");
  }

  @Test
  void plusargsAnswerNoUnlessTheyAreGiven() {
    try (Dut dut = MODEL.open(HERE)) {
      assertEquals(2, given(dut, 8));
      assertEquals(2, given(dut, 9));
    }
    try (Dut dut = MODEL.open(HERE.withPlusargs("depth=31", "quiet"))) {
      assertEquals(1, given(dut, 8));
      assertEquals(1, given(dut, 9));
      assertEquals(31, dut.get("depth"));
    }
    for (String wrong : List.of("", "verilator+seed+5", "a\0b")) {
      assertThrows(IllegalArgumentException.class, () -> DutOptions.defaults().withPlusargs(wrong));
    }
  }

  @Test
  void aMemoryFileThatIsAPipeNamesThePipe() throws IOException {
    try (Dut dut = MODEL.open(HERE)) {
      dut.set("order", 7);
      DutEndedException e = assertThrows(DutEndedException.class, dut::cycle);
      assertEquals(DutEndedException.Kind.MEMORY_FILE, e.kind());
      assertTrue(e.getMessage().contains("reading_room.fifo"), e.getMessage());
      assertTrue(Files.exists(Path.of("target/reading_room.fifo")));
    }
  }
}
