package dev.plumbline.toolchain;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.Clocking;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.cosim.DutOptions;
import dev.plumbline.cosim.PortException;
import dev.plumbline.rtl.RtlSource;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A build may take minutes, and that nobody drives a clock is known without it. */
class SeveralClocksTest {
  @TempDir private Path folder;

  /** Another design every time, so that no earlier run has left its library. */
  private RtlSource source() throws IOException {
    return RtlSource.of(
        Files.writeString(
            folder.resolve("tides.sv"),
            """
            module tides (input sun, input moon, output logic [63:0] s, output logic [63:0] m);
              always @(posedge sun) s <= s + 1;
              always @(posedge moon) m <= m + 64'd%d;
            endmodule
            """
                .formatted(System.nanoTime())));
  }

  @Test
  void areToldBeforeAnythingIsCompiled() throws IOException {
    RtlSource source = source();

    ProcessCount.Made<CompiledDesign> read = ProcessCount.during(() -> CompiledDesign.of(source));
    ProcessCount.Made<PortException> refused =
        ProcessCount.during(() -> assertThrows(PortException.class, () -> read.value().open()));

    assertTrue(refused.value().getMessage().contains("several clocks, sun, moon"));
    assertEquals(0, read.of("g\\+\\+"), read.toString());
    assertEquals(0, refused.of("g\\+\\+"), refused.toString());
  }

  @Test
  @Tag("thorough")
  void areCompiledOnceWhenTheyAreDriven() throws IOException {
    CompiledDesign model = CompiledDesign.of(source());
    DutOptions driven = DutOptions.defaults().withClocking(Clocking.of("sun").with("moon", 1, 0));

    ProcessCount.Made<Dut> first = ProcessCount.during(() -> model.open(driven));
    ProcessCount.Made<Dut> second = ProcessCount.during(() -> model.open(driven));

    assertTrue(first.of("g\\+\\+") > 0, first.toString());
    assertEquals(0, second.of(".*"), second.toString());
    first.value().cycles(3);
    first.value().settle();
    assertEquals(3, first.value().get("s"));
    first.value().close();
    second.value().close();
  }

  @Test
  @Tag("thorough")
  void aSourceThatChangedMeanwhileIsRefused() throws IOException {
    CompiledDesign model = CompiledDesign.of(source());
    Files.writeString(
        folder.resolve("tides.sv"),
        """
        module tides (input sun, input moon, output logic s);
          always @(posedge sun) s <= moon;
        endmodule
        """);

    ToolchainException e =
        assertThrows(
            ToolchainException.class,
            () -> model.open(DutOptions.defaults().withClocking(Clocking.of("sun"))));

    assertTrue(e.getMessage().contains("was changed after it was read"), e.getMessage());
  }
}
