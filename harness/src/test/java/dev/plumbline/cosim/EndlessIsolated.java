package dev.plumbline.cosim;

import dev.plumbline.rtl.RtlSource;
import java.nio.file.Path;
import java.time.Duration;

/** Prints the number of an isolated model's process, and lets the model run for ever. */
public final class EndlessIsolated {
  private EndlessIsolated() {}

  public static void main(String[] arguments) {
    CompiledDesign model =
        CompiledDesign.of(
            RtlSource.of(Path.of("src/test/rtl/alarm_panel.sv")).withTop("alarm_panel"));
    DutOptions options = DutOptions.defaults().withIsolated(true).withTimeout(Duration.ofHours(1));
    try (Dut dut = model.open(options)) {
      System.out.println(
          ProcessHandle.current().children().findFirst().map(ProcessHandle::pid).orElse(0L));
      dut.set("alarm", 7);
      dut.cycle();
    }
  }
}
