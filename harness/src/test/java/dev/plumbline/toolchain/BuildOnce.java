package dev.plumbline.toolchain;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.rtl.RtlSource;
import java.io.IOException;
import java.nio.file.Path;

/**
 * Waits for a line, builds a gear train of so many steps, turns it three times; prints its library
 * and where it stands.
 */
public final class BuildOnce {
  private BuildOnce() {}

  public static void main(String[] arguments) throws IOException {
    RtlSource source = RtlSource.of(Path.of(arguments[0])).withParameter("Steps", arguments[1]);
    System.out.println("ready");
    if (System.in.read() < 0) {
      return;
    }
    DesignLibrary library = DesignBuilder.build(source, BuildOptions.defaults());
    try (Dut dut = CompiledDesign.of(source).open()) {
      dut.set("in_valid", 1);
      dut.set("in_step", 1);
      dut.cycles(4);
      System.out.println(library.file());
      System.out.println(dut.get("out_angle"));
    }
  }
}
