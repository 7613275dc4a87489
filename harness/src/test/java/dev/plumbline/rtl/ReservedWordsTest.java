package dev.plumbline.rtl;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The words against the installed Verilator, which has them of the two standards. */
class ReservedWordsTest {
  @TempDir static Path work;

  private static String lint(String file, String text, String... more) throws Exception {
    Files.writeString(work.resolve(file), text);
    List<String> command = new ArrayList<>(List.of("verilator", "--lint-only", "-Wno-fatal"));
    command.addAll(List.of(more));
    command.add(file);
    Path output = work.resolve(file + ".txt");
    Process process =
        new ProcessBuilder(command)
            .directory(work.toFile())
            .redirectErrorStream(true)
            .redirectOutput(output.toFile())
            .start();
    return process.waitFor() + "\n" + Files.readString(output);
  }

  /** A wire of each name; an error in a line is that of its word. */
  private static String wires(Iterable<String> words) {
    StringBuilder text = new StringBuilder();
    words.forEach(word -> text.append("module m_" + word + "; wire " + word + "; endmodule\n"));
    return text.toString();
  }

  /** Verilator takes {@code global} for a name wherever no {@code clocking} follows. */
  @Test
  @DisplayName("IEEE 1800-2017 Annex B: SystemVerilog takes none of the words for a wire's name")
  void systemVerilogReservesThem() throws Exception {
    List<String> words = List.copyOf(new TreeSet<>(ReservedWords.WORDS));
    String printed = lint("names.sv", wires(words), "--error-limit", "1000");
    Set<String> refused =
        Pattern.compile("%Error\\S*: names.sv:(\\d+):")
            .matcher(printed)
            .results()
            .map(result -> words.get(Integer.parseInt(result.group(1)) - 1))
            .collect(Collectors.toSet());
    Set<String> taken = new TreeSet<>(words);
    taken.removeAll(refused);
    assertEquals(Set.of("global"), taken, printed);
    assertTrue(lint("free.sv", wires(List.of("planet"))).startsWith("0\n"));
  }

  /** Verilator reserves {@code foreach} in both languages. */
  @Test
  @DisplayName("IEEE 1364-2005 Annex B: Verilog takes each of the words for a wire's name")
  void verilogDoesNotReserveThem() throws Exception {
    Set<String> words = new TreeSet<>(ReservedWords.WORDS);
    words.remove("foreach");
    String printed = lint("names.v", wires(words), "+1364-2005ext+v");
    assertTrue(printed.startsWith("0\n"), printed);
    assertFalse(lint("held.v", wires(List.of("wand")), "+1364-2005ext+v").startsWith("0\n"));
  }
}
