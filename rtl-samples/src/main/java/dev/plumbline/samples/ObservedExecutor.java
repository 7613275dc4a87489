package dev.plumbline.samples;

import dev.plumbline.cosim.Batch;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.WordLayout;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.models.traversal.SurfaceNumber;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * The scene executor driven directly and watched, for figures from outside: programs and rays go
 * in, and what the RTL's own ports show comes out. No model says what it should be.
 */
public final class ObservedExecutor implements AutoCloseable {
  private static final int ROWS = 4096;
  private static final int FACE_BITS = 3;

  /** Rows of a call for each ray to come: most rays take fewer. */
  private static final int ROWS_A_RAY = 128;

  /**
   * A list at the retirement port, end by end, in LSB of the word.
   *
   * @param address of the operation after which it is on top
   * @param distances of its ends
   * @param materials of the solids at its ends
   * @param faces of them, as {@link SurfaceNumber} number them
   * @param reversed of its ends
   */
  public record ObservedList(
      int address,
      List<Long> distances,
      List<Integer> materials,
      List<Integer> faces,
      List<Boolean> reversed) {}

  /**
   * A result, and the lists on the way to it that were asked for.
   *
   * @param hit a surface was found
   * @param distance of it, in LSB of the word
   * @param material of its solid; 0 where none is reported
   * @param face of that, as {@link SurfaceNumber} number them
   * @param reversed it is of a solid cut away
   * @param cycles that the ray took
   * @param operations that retired
   * @param right predictions
   * @param wrong predictions
   * @param lists on the way
   */
  public record Result(
      boolean hit,
      long distance,
      int material,
      int face,
      boolean reversed,
      long cycles,
      long operations,
      long right,
      long wrong,
      List<ObservedList> lists) {}

  private final SampleExecutor executor;
  private final Dut dut;
  private final Batch batch;
  private final List<long[]> rayColumns = new ArrayList<>();
  private Program loaded;
  private final List<String> rayNames = List.copyOf(Rays.names());

  /**
   * Opens an executor and resets it.
   *
   * @param executor which
   */
  public ObservedExecutor(SampleExecutor executor) {
    this.executor = executor;
    this.dut = CompiledDesign.of(executor.rtl()).open();
    this.batch = dut.batch(ROWS);
    batch.handshake("ray_valid", "ray_ready");
    Arrays.fill(batch.column("ray_valid"), 1);
    rayNames.forEach(name -> rayColumns.add(batch.column("ray_" + name)));
    dut.set("result_ready", 1);
    reset();
  }

  /** Resets it for a cycle; the program stays. */
  public void reset() {
    dut.set("ray_valid", 0); // what a run offered last stands
    dut.set("rst", 1);
    dut.cycle();
    dut.set("rst", 0);
  }

  /**
   * Loads a program.
   *
   * @param program within the executor's limits
   */
  public void load(Program program) {
    WordLayout layout = WordLayout.standard(program.formats());
    BigInteger[] words = layout.encode(program);
    loaded = program;
    dut.set("ray_valid", 0);
    dut.set("load_valid", 1);
    for (int address = 0; address < words.length; address++) {
      long[] parts = new long[(layout.width() + 63) / 64];
      for (int i = 0; i < parts.length; i++) {
        parts[i] = words[address].shiftRight(64 * i).longValue();
      }
      dut.set("load_address", address);
      dut.set("load_word", parts);
      dut.cycle();
    }
    dut.set("load_valid", 0);
  }

  /**
   * Runs rays one after the other.
   *
   * @param rays the rays
   * @return their results in order, without lists
   */
  public List<Result> run(Rays rays) {
    return run(rays, false);
  }

  /**
   * The same, with the list on top after each operation.
   *
   * @param rays the rays
   * @return their results in order
   */
  public List<Result> runWithLists(Rays rays) {
    return run(rays, true);
  }

  private List<Result> run(Rays rays, boolean withLists) {
    List<Result> results = new ArrayList<>();
    List<ObservedList> lists = new ArrayList<>();
    long[] resultValid = batch.column("result_valid");
    long[] retireValid = batch.column("retire_valid");
    int accepted = 0;
    while (results.size() < rays.capacity()) {
      int waiting = Math.min(ROWS, rays.capacity() - accepted);
      for (int i = 0; i < rayColumns.size(); i++) {
        System.arraycopy(rays.column(rayNames.get(i)), accepted, rayColumns.get(i), 0, waiting);
      }
      int rows = Math.min(ROWS, ROWS_A_RAY * (rays.capacity() - results.size()));
      dut.run(batch, rows, waiting);
      for (int row = 0; row < rows; row++) {
        if (withLists && retireValid[row] == 1) {
          lists.add(list(row));
        }
        if (resultValid[row] == 1) {
          results.add(result(row, List.copyOf(lists)));
          lists.clear();
        }
      }
      accepted += batch.accepted();
    }
    return results;
  }

  private Result result(int row, List<ObservedList> lists) {
    return new Result(
        batch.column("result_hit")[row] == 1,
        batch.column("result_distance")[row],
        material(batch.column("result_address")[row]),
        (int) batch.column("result_face")[row],
        batch.column("result_reversed")[row] == 1,
        batch.column("result_cycles")[row],
        batch.column("result_operations")[row],
        batch.column("result_predicted_right")[row],
        batch.column("result_predicted_wrong")[row],
        lists);
  }

  private ObservedList list(int row) {
    int width = executor.word().width();
    int addressBits = executor.addressBits();
    List<Long> distances = new ArrayList<>();
    List<Integer> materials = new ArrayList<>();
    List<Integer> faces = new ArrayList<>();
    List<Boolean> reversed = new ArrayList<>();
    for (int end = 0; end < 2 * batch.column("retire_count")[row]; end++) {
      long raw = field("retire_distance", row, end * width, width);
      distances.add(executor.word().extend(raw));
      int from = end * (FACE_BITS + addressBits);
      materials.add(material(field("retire_surface", row, from, addressBits)));
      faces.add((int) field("retire_surface", row, from + addressBits, FACE_BITS));
      reversed.add(field("retire_reversed", row, end, 1) == 1);
    }
    return new ObservedList(
        (int) batch.column("retire_address")[row], distances, materials, faces, reversed);
  }

  private int material(long address) {
    return loaded.at((int) address).material();
  }

  /** Some bits of a port that may be wide. */
  private long field(String port, int row, int from, int width) {
    BigInteger all = BigInteger.ZERO;
    for (int word = (from + width - 1) / 64; word >= from / 64; word--) {
      long bits = batch.column(port, word)[row];
      all = all.shiftLeft(64).or(new BigInteger(Long.toUnsignedString(bits)));
    }
    return all.shiftRight(from % 64).longValue() & ((1L << width) - 1);
  }

  @Override
  public void close() {
    dut.close();
  }
}
