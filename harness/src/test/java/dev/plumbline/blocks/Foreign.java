package dev.plumbline.blocks;

import dev.plumbline.check.Bench;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.faults.Fault;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.toolchain.BuildOptions;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** RTL from another hand, as it stands and with a fault planted. */
public final class Foreign {
  private static final Path FOLDER = Path.of("src/test/rtl/foreign");

  private Foreign() {}

  /** A bench on a copy in which one text, which stands there once, is replaced by another. */
  static Bench.Builder faulty(String file, Path folder, String was, String is) {
    RtlSource source = RtlSource.of(FOLDER.resolve(file));
    return Bench.of(brief(Fault.of(file, file, was, is).plantedIn(source, folder)));
  }

  /** The RTL as it stands. */
  static CompiledDesign model(String file) {
    return CompiledDesign.of(RtlSource.of(FOLDER.resolve(file)));
  }

  /** A bench on a module of which only the ports matter. */
  public static Bench.Builder module(Path folder, String verilog) throws IOException {
    return Bench.of(brief(RtlSource.of(Files.writeString(folder.resolve("dut.v"), verilog))));
  }

  /** For models that run for some ten thousand cycles. */
  private static CompiledDesign brief(RtlSource source) {
    return CompiledDesign.of(source, BuildOptions.defaults().withOptimisation(false));
  }
}
