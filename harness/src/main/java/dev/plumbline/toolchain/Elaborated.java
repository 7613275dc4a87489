package dev.plumbline.toolchain;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/**
 * What the cache knows of a request: which library answers it, and what has to be unchanged for
 * that to be true.
 *
 * @param library the library's file name
 * @param contentHash digest of the RTL's content
 * @param description name of the folder with Verilator's description of the design
 * @param hazard what the design may do to its process, or nothing
 * @param receipt what the elaboration depended on
 */
record Elaborated(
    String library, String contentHash, String description, String hazard, Receipt receipt) {
  private static final int HEAD = 4;
  private static final int SEAL = 2;

  static Elaborated read(Path file) throws IOException {
    if (!Seal.holds(file)) {
      throw new IOException("not a file of this program");
    }
    List<String> lines = Files.readAllLines(file);
    return new Elaborated(
        lines.get(0),
        lines.get(1),
        lines.get(2),
        lines.get(3),
        new Receipt(lines.subList(HEAD, lines.size() - SEAL)));
  }

  void write(Path file) throws IOException {
    Files.write(file, List.of(library, contentHash, description, hazard));
    Files.write(file, receipt.lines(), java.nio.file.StandardOpenOption.APPEND);
    Seal.put(file);
  }
}
