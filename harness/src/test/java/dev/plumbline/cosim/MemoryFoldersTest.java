package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.rtl.RtlSource;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Where memory files with relative names are looked for. */
class MemoryFoldersTest {
  private static final String TIDES =
      """
      module tides (input wire [1:0] hour, output wire [7:0] height);
        reg [7:0] table_of_heights [0:3];
        initial $readmemh("heights.hex", table_of_heights);
        assign height = table_of_heights[hour];
      endmodule
      """;

  @TempDir private Path folder;

  private CompiledDesign model() throws IOException {
    Path rtl = Files.createDirectories(folder.resolve("rtl"));
    return CompiledDesign.of(RtlSource.of(Files.writeString(rtl.resolve("tides.sv"), TIDES)));
  }

  private static long height(CompiledDesign model, DutOptions options, int hour) {
    try (Dut dut = model.open(options)) {
      dut.set("hour", hour);
      dut.cycle();
      return dut.get("height");
    }
  }

  @Test
  void besideTheSourceOrInADeclaredFolderWhichComesFirst() throws IOException {
    CompiledDesign model = model();
    Path declared = Files.createDirectories(folder.resolve("tables"));
    DutOptions options = DutOptions.defaults().withFolders(declared);

    DutEndedException e = assertThrows(DutEndedException.class, () -> height(model, options, 0));
    assertEquals(DutEndedException.Kind.MEMORY_FILE, e.kind());
    assertTrue(e.location().toString().endsWith("tides.sv:3"), e.getMessage());
    assertTrue(
        e.getMessage()
            .contains(
                "$readmem file heights.hex not found. Looked in "
                    + Path.of("").toAbsolutePath()
                    + ", "
                    + declared
                    + ", "
                    + folder.resolve("rtl")
                    + "; more folders are named by DutOptions.withFolders"),
        e.getMessage());

    Files.writeString(folder.resolve("rtl").resolve("heights.hex"), "10 20 30 40\n");
    assertEquals(0x30, height(model, options, 2));
    Files.writeString(declared.resolve("heights.hex"), "11 21 31 41\n");
    assertEquals(0x31, height(model, options, 2));
    assertEquals(0x31, height(model, options.withIsolated(true), 2), "in a process of its own");
    assertEquals(0x30, height(model, DutOptions.defaults(), 2), "no folder declared");
  }
}
