package dev.plumbline.toolchain;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The compiler takes the precompiled header. A flag that one command has and the other has not is
 * enough for it to read all headers again, and it does not say so unless it is asked.
 */
class CommonHeaderTest {
  @TempDir private Path folder;

  @Test
  @Tag("thorough")
  void theCompilerTakesThePrecompiledHeader() throws IOException {
    String used = compile(List.of());
    assertTrue(used.contains("! ") && !used.contains("x "), used);
  }

  @Test
  @Tag("thorough")
  void anotherFlagWouldHaveItRefused() throws IOException {
    String refused = compile(List.of("-D_REENTRANT=2", "-DVL_DEBUG"));
    assertTrue(refused.contains("x "), refused);
  }

  /** What the compiler says of the headers that it reads for an empty unit. */
  private String compile(List<String> further) throws IOException {
    Toolchain toolchain = Toolchain.find();
    Support support = new Support(toolchain, CacheFolder.find());
    Path unit = Files.writeString(folder.resolve("unit.cpp"), "");
    Path header = support.header(Support.Level.O3).resolve("model.h");
    List<String> command = new ArrayList<>(List.of(toolchain.cxx().toString()));
    command.addAll(support.unitFlags(Support.Level.O3));
    command.addAll(List.of("-include", header.toString(), unit.toString()));
    command.addAll(DesignBuilder.LINK);
    command.addAll(List.of("-H", "-o", folder.resolve("unit.so").toString()));
    command.addAll(further);
    return Command.start(folder.resolve("log"), command).await().output();
  }
}
