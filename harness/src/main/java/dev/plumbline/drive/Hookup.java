package dev.plumbline.drive;

import dev.plumbline.contract.Flow;
import dev.plumbline.models.datapath.Operand;
import java.math.BigInteger;
import java.util.Map;
import java.util.stream.IntStream;

/** The columns of one engine, sorted by what they are to the contract; null where there is none. */
public final class Hookup {
  final Engine engine;
  public final long[][][] inputs; // operand, word
  public final long[][][] outputs; // check, word
  public final long[] reset;
  final long[][] furtherResets;
  public final long[] inValid;
  public final long[] inReady;
  public final long[] outValid;
  public final long[] outReady;
  public final int[] beatAt; // null where a case is one row
  final long[][] buses; // words of ports that carry operands in turn
  final long[][] marks;
  final int[] markedBeats;

  Hookup(Engine engine, Binding binding) {
    this.engine = engine;
    Flow flow = binding.contract().flow();
    inputs = new long[binding.inputs().size()][][];
    for (int i = 0; i < inputs.length; i++) {
      inputs[i] = columns(binding.inputColumn(i), binding.words(i));
    }
    OutputCheck[] checks = binding.checks();
    outputs = new long[checks.length][][];
    for (int c = 0; c < checks.length; c++) {
      outputs[c] = columns(checks[c].port(), checks[c].words());
    }
    reset = control(binding.contract().reset().port());
    furtherResets =
        binding.contract().reset().further().stream()
            .map(line -> control(line.port()))
            .toArray(long[][]::new);
    inValid = control(flow.inValid());
    inReady = control(flow.inReady());
    outValid = control(flow.outValid());
    outReady = control(flow.outReady());
    beatAt = engine.beatAt();
    buses =
        beatAt == null
            ? new long[0][]
            : binding.inputs().stream()
                .flatMap(
                    port ->
                        IntStream.range(0, port.port().words())
                            .mapToObj(word -> engine.column(port.column(), word)))
                .distinct()
                .toArray(long[][]::new);
    Map<String, Integer> marking = binding.beats().marks();
    marks = marking.keySet().stream().map(this::control).toArray(long[][]::new);
    markedBeats = marking.values().stream().mapToInt(Integer::intValue).toArray();
  }

  private long[][] columns(String port, int words) {
    long[][] columns = new long[words][];
    for (int word = 0; word < words; word++) {
      columns[word] = engine.column(port, word);
    }
    return columns;
  }

  private long[] control(String port) {
    return port == null ? null : engine.column(port, 0);
  }

  /** The code at a row of an operand's columns, one for each word. */
  public static BigInteger code(Operand operand, long[][] columns, int row) {
    long[] words = new long[columns.length];
    for (int word = 0; word < words.length; word++) {
      words[word] = columns[word][row];
    }
    return operand.format().fromWords(words);
  }
}
