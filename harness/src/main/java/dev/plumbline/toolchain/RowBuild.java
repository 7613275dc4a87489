package dev.plumbline.toolchain;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Compiles programs over rows, each once, to a library that lies beside those of designs. */
public final class RowBuild {
  // No sum is fused with a product, which would round once instead of twice.
  private static final List<String> FLAGS =
      List.of("-std=gnu++17", "-O2", "-fPIC", "-shared", "-w", "-ffp-contract=off");

  private static final List<String> WIDER = List.of("-DPLUMB_AVX512");

  private RowBuild() {}

  /**
   * Finds the library of a program that was made before.
   *
   * @param statements as {@code RowProgram} has them
   * @param firstOutput the number of the column that output 0 stands in
   * @return the file, as {@link #build} gives it; empty where there is none
   * @throws ToolchainException when the tool chain or the cache cannot be used
   */
  public static Optional<Path> find(String statements, int firstOutput) {
    Path entry = entry(name(statements, firstOutput));
    return Seal.holds(entry) ? Optional.of(entry) : Optional.empty();
  }

  /**
   * Finds or makes the library of a program.
   *
   * @param statements as {@code RowProgram} has them
   * @param firstOutput the number of the column that output 0 stands in
   * @return the file, which has {@code plumb_rows} and {@code plumb_rows_able} of {@code rows.cpp}
   * @throws ToolchainException when the tool chain or the cache cannot be used
   */
  public static Path build(String statements, int firstOutput) {
    String name = name(statements, firstOutput);
    Path entry = entry(name);
    if (Seal.holds(entry)) {
      return entry;
    }
    CacheFolder cache = CacheFolder.find();
    return cache.locked(
        "beside",
        name,
        work -> {
          if (!Seal.holds(entry)) {
            CacheFolder.requireExecution(work);
            Resources.copy(work, "rows.cpp");
            Files.writeString(work.resolve("statements.h"), statements);
            Path out = work.resolve("out.so");
            Support.compile(work, "a reference", command(work, firstOutput, out));
            Seal.put(out);
            cache.publish(out, entry);
          }
          return entry;
        });
  }

  private static Path entry(String name) {
    return CacheFolder.find().entry("libraries", name);
  }

  private static String name(String statements, int firstOutput) {
    Digest digest = new Digest().add(Toolchain.find().fingerprint()).addAll(flags());
    digest.add(Resources.bytes("rows.cpp")).add(statements).add(Integer.toString(firstOutput));
    return digest.hex().substring(0, 32) + "-rows.so";
  }

  private static List<String> flags() {
    List<String> flags = new ArrayList<>(FLAGS);
    if (hasWiderSet()) {
      flags.addAll(WIDER);
    }
    return flags;
  }

  /** Whether this machine's processor says that it has AVX-512, of which the library asks again. */
  private static boolean hasWiderSet() {
    try {
      List<String> words = List.of(Files.readString(Path.of("/proc/cpuinfo")).split("\\s+"));
      return words.contains("avx512dq") && words.contains("avx512vl");
    } catch (IOException e) {
      return false; // another system, or none of its business
    }
  }

  private static List<String> command(Path work, int firstOutput, Path out) {
    List<String> command = new ArrayList<>(List.of(Toolchain.find().cxx().toString()));
    command.addAll(flags());
    command.add("-DFIRST_OUTPUT=" + firstOutput);
    command.addAll(List.of(work.resolve("rows.cpp").toString(), "-o", out.toString()));
    return command;
  }
}
