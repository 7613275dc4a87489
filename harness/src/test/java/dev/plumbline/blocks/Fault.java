package dev.plumbline.blocks;

import dev.plumbline.check.Bench;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.toolchain.BuildOptions;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** Copies of the foreign RTL with a fault planted. */
public final class Fault {
  private static final Path FOREIGN = Path.of("src/test/rtl/foreign");

  private Fault() {}

  /** A bench on a copy in which one text, which stands there once, is replaced by another. */
  static Bench.Builder in(String file, Path folder, String was, String is) throws IOException {
    String text = Files.readString(FOREIGN.resolve(file));
    int at = text.indexOf(was);
    if (at < 0 || text.indexOf(was, at + 1) >= 0) {
      throw new IllegalStateException("not exactly once in " + file + ": " + was);
    }
    Path copy = Files.writeString(folder.resolve(file), text.replace(was, is));
    return Bench.of(brief(copy));
  }

  /** The RTL as it stands. */
  static CompiledDesign model(String file) {
    return CompiledDesign.of(RtlSource.of(FOREIGN.resolve(file)));
  }

  /** A bench on a module of which only the ports matter. */
  public static Bench.Builder module(Path folder, String verilog) throws IOException {
    Path file = Files.writeString(folder.resolve("dut.v"), verilog);
    return Bench.of(brief(file));
  }

  /** For models that run for some ten thousand cycles. */
  private static CompiledDesign brief(Path file) {
    return CompiledDesign.of(RtlSource.of(file), BuildOptions.defaults().withOptimisation(false));
  }
}
