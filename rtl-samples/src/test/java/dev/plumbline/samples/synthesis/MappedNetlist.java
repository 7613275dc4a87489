package dev.plumbline.samples.synthesis;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/**
 * A netlist of an FPGA's cells, bit by bit, from the BLIF that Yosys writes: how many there are of
 * each kind, and the longest path between registers as {@link CellDelays} estimates it. A signal
 * that is driven by nothing starts a path as a register would.
 */
final class MappedNetlist {
  /** A cell: signals by the names of its ports. */
  record Cell(String kind, Map<String, String> ports) {}

  /**
   * The slowest way from a register, memory or input to another or to an output.
   *
   * @param nanoseconds its estimated length
   * @param signals on the way, the first is where it begins
   */
  record LongestPath(double nanoseconds, List<String> signals) {}

  private final List<Cell> cells;
  private final List<String> outputs;
  private final Map<String, String> sameAs;
  private final Map<String, Driver> drivers = new HashMap<>();
  private final Map<String, Arrival> arrivals = new HashMap<>();

  private record Driver(Cell cell, String port) {}

  private record Arrival(double at, String from) {}

  private MappedNetlist(List<Cell> cells, List<String> outputs, Map<String, String> sameAs) {
    this.cells = cells;
    this.outputs = outputs;
    this.sameAs = sameAs;
    for (Cell cell : cells) {
      cell.ports()
          .forEach(
              (port, signal) -> {
                if (CellDelays.isOutput(cell.kind(), port)) {
                  drivers.put(signal, new Driver(cell, port));
                }
              });
    }
  }

  static MappedNetlist read(Path file) throws IOException {
    List<Cell> cells = new ArrayList<>();
    List<String> outputs = new ArrayList<>();
    Map<String, String> sameAs = new HashMap<>();
    for (String line : Files.readAllLines(file)) {
      String[] words = line.split(" ");
      switch (words[0]) {
        case ".outputs" -> outputs.addAll(List.of(words).subList(1, words.length));
        case ".names" -> {
          if (words.length == 3) {
            sameAs.put(words[2], words[1]);
          } else if (words.length > 3) {
            throw new IllegalArgumentException("Logic that is no cell: " + line);
          }
        }
        case ".gate", ".subckt" -> {
          Map<String, String> ports = new HashMap<>();
          for (String connection : List.of(words).subList(2, words.length)) {
            int split = connection.indexOf('=');
            ports.put(connection.substring(0, split), connection.substring(split + 1));
          }
          cells.add(new Cell(words[1], ports));
        }
        default -> {
          // Parameters and the like change neither count nor delay.
        }
      }
    }
    return new MappedNetlist(cells, outputs, sameAs);
  }

  /** How many cells there are, by kind. */
  Map<String, Integer> counts() {
    Map<String, Integer> counts = new TreeMap<>();
    cells.forEach(cell -> counts.merge(cell.kind(), 1, Integer::sum));
    return counts;
  }

  LongestPath longestPath() {
    LongestPath longest = new LongestPath(0, List.of());
    for (String output : outputs) {
      longest = longer(longest, output, 0);
    }
    for (Cell cell : cells) {
      for (var port : cell.ports().entrySet()) {
        if (CellDelays.isEnd(cell.kind(), port.getKey())) {
          double wire = CellDelays.wireInto(cell.kind(), port.getKey());
          longest = longer(longest, port.getValue(), wire);
        }
      }
    }
    return longest;
  }

  private LongestPath longer(LongestPath than, String signal, double wire) {
    Arrival arrival = arrival(signal);
    if (arrival.at() + wire <= than.nanoseconds()) {
      return than;
    }
    List<String> signals = new ArrayList<>();
    for (String at = root(signal); at != null; at = arrivals.get(at).from()) {
      signals.add(0, at);
    }
    return new LongestPath(arrival.at() + wire, signals);
  }

  private String root(String signal) {
    String at = signal;
    while (sameAs.containsKey(at)) {
      at = sameAs.get(at);
    }
    return at;
  }

  /** When a signal is there, and which signal it waited for; those it needs are found first. */
  private Arrival arrival(String wanted) {
    Deque<String> open = new ArrayDeque<>(List.of(root(wanted)));
    while (!open.isEmpty()) {
      String signal = open.peek();
      Arrival found = arrivals.containsKey(signal) ? arrivals.get(signal) : settle(signal, open);
      if (found != null) {
        arrivals.put(signal, found);
        open.pop();
      }
    }
    return arrivals.get(root(wanted));
  }

  /** Null where another signal has to be found first, which is then put on the stack. */
  private Arrival settle(String signal, Deque<String> open) {
    if (signal.startsWith("$")) {
      return new Arrival(0, null); // a constant
    }
    Driver driver = drivers.get(signal);
    if (driver == null || CellDelays.isStart(driver.cell().kind())) {
      return new Arrival(
          driver == null ? CellDelays.REGISTER : CellDelays.start(driver.cell().kind()), null);
    }
    Arrival latest = null;
    boolean complete = true;
    for (var input : driver.cell().ports().entrySet()) {
      double through = CellDelays.through(driver.cell().kind(), input.getKey(), driver.port());
      if (Double.isNaN(through)) {
        continue; // an output, or an input that this output does not hang on
      }
      String from = root(input.getValue());
      Arrival before = arrivals.get(from);
      if (before == null) {
        open.push(from);
        complete = false;
      } else if (!from.startsWith("$")) {
        double at =
            before.at() + CellDelays.wireInto(driver.cell().kind(), input.getKey()) + through;
        latest = latest == null || at > latest.at() ? new Arrival(at, from) : latest;
      }
    }
    return !complete ? null : latest == null ? new Arrival(0, null) : latest;
  }
}
