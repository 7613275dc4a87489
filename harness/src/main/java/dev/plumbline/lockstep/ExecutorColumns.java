package dev.plumbline.lockstep;

import dev.plumbline.drive.Engine;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.traversal.Rays;
import java.math.BigInteger;
import java.util.List;

/** The columns of one DUT, by what they are for; null where the design has no such port. */
final class ExecutorColumns {
  final long[] reset;
  final long[] abort;
  final long[] loadValid;
  final long[] rayValid;
  final long[] rayReady;
  final long[] resultValid;
  final long[] resultReady;
  final long[] retireValid;
  final List<Output> retired;
  final List<Output> results;
  final List<String> rayNames;
  final long[][] ray;
  final long[] surfaceRead;
  final long[] surfaceAddress;
  final long[] loadAddress;
  final long[][] loadWord;
  private Program encoded; // the program at hand; null before the first
  private long[][] words = new long[0][]; // of it

  ExecutorColumns(Ports ports, Engine engine) {
    reset = ports.column(engine, "rst");
    abort = ports.column(engine, Ports.ABORT);
    loadValid = ports.column(engine, "load_valid");
    loadAddress = ports.column(engine, "load_address");
    loadWord = ports.words(engine, "load_word");
    surfaceRead = ports.column(engine, "surface_read");
    surfaceAddress = ports.column(engine, "surface_address");
    rayValid = ports.column(engine, "ray_valid");
    rayReady = ports.column(engine, "ray_ready");
    resultValid = ports.column(engine, "result_valid");
    resultReady = ports.column(engine, "result_ready");
    retireValid = ports.column(engine, "retire_valid");
    retired = ports.retired();
    results = ports.results();
    for (List<Output> outputs : List.of(retired, results)) {
      outputs.forEach(output -> output.sampledIn(ports.words(engine, output.promise.role())));
    }
    rayNames = ports.rayColumns();
    ray = new long[rayNames.size()][];
    for (int i = 0; i < ray.length; i++) {
      ray[i] = ports.column(engine, Ports.RAY + rayNames.get(i));
    }
  }

  /** The valid of results, or that of operations, which may be null. */
  long[] valid(boolean ofResult) {
    return ofResult ? resultValid : retireValid;
  }

  /** The outputs that are compared with a result, or with an operation. */
  List<Output> outputs(boolean ofResult) {
    return ofResult ? results : retired;
  }

  /** Encodes the program that is loaded next. */
  void encode(Executor executor, Program program) {
    if (program.equals(encoded)) {
      return; // a scene that is given is loaded over and over
    }
    BigInteger[] codes = executor.layout().encode(program);
    words = new long[codes.length][loadWord.length];
    for (int i = 0; i < codes.length; i++) {
      for (int word = 0; word < loadWord.length; word++) {
        words[i][word] = codes[i].shiftRight(Long.SIZE * word).longValue();
      }
    }
    encoded = program;
  }

  /** Has a word of the program loaded in a row. */
  void load(int row, int address) {
    loadValid[row] = 1;
    loadAddress[row] = address;
    for (int word = 0; word < loadWord.length; word++) {
      loadWord[word][row] = words[address][word];
    }
  }

  /** Has rays wait to be accepted, the first one as case 0. */
  void offer(Rays rays, int from, int count) {
    for (int i = 0; i < ray.length; i++) {
      System.arraycopy(rays.column(rayNames.get(i)), from, ray[i], 0, count);
    }
  }
}
