package dev.plumbline.toolchain;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/** Compiles programs over rows, each once, to a library that lies beside those of designs. */
public final class RowBuild {
  // No sum is fused with a product, which would round once instead of twice.
  private static final List<String> FLAGS =
      List.of("-std=gnu++17", "-O2", "-fPIC", "-shared", "-w", "-ffp-contract=off");

  /** What a processor works on several rows with; programs give the same bits with each. */
  public enum Vectors {
    /** Four rows at once. */
    AVX2,
    /** Eight, and products of whole words. */
    AVX512;

    /**
     * The widest that this machine's processor says it has; of which the library asks again.
     *
     * @return it, or the narrowest where it does not say
     */
    public static Vectors widest() {
      try {
        List<String> words = List.of(Files.readString(Path.of("/proc/cpuinfo")).split("\\s+"));
        return words.contains("avx512dq") && words.contains("avx512vl") ? AVX512 : AVX2;
      } catch (IOException e) {
        return AVX2; // another system
      }
    }
  }

  private RowBuild() {}

  /**
   * Where the library of a program is once it has been made.
   *
   * @param statements as {@code RowProgram} has them
   * @param firstOutput the number of the column that output 0 stands in
   * @param vectors what it is to use
   * @return the file
   * @throws ToolchainException when the tool chain or the cache cannot be used
   */
  public static Path place(String statements, int firstOutput, Vectors vectors) {
    Digest digest = new Digest().add(Toolchain.find().fingerprint()).addAll(FLAGS);
    digest.add(vectors.name());
    digest.add(Resources.bytes("rows.cpp")).add(statements).add(Integer.toString(firstOutput));
    return CacheFolder.find().entry("libraries", digest.hex().substring(0, 32) + "-rows.so");
  }

  /**
   * Whether a library has been made, and is as it was made.
   *
   * @param place as {@link #place} gives it
   * @return false where it has to be made
   */
  public static boolean isMade(Path place) {
    return Seal.holds(place);
  }

  /**
   * Makes the library of a program, unless it is there.
   *
   * @param statements as {@code RowProgram} has them
   * @param firstOutput the number of the column that output 0 stands in
   * @param vectors what it is to use
   * @return the file, which has {@code plumb_rows} and {@code plumb_rows_able} of {@code rows.cpp}
   * @throws ToolchainException when the tool chain or the cache cannot be used
   */
  public static Path build(String statements, int firstOutput, Vectors vectors) {
    Path place = place(statements, firstOutput, vectors);
    if (isMade(place)) {
      return place;
    }
    CacheFolder cache = CacheFolder.find();
    return cache.locked(
        "beside",
        place.getFileName().toString(),
        work -> {
          if (!isMade(place)) {
            CacheFolder.requireExecution(work);
            Resources.copy(work, "rows.cpp");
            Files.writeString(work.resolve("statements.h"), statements);
            Path out = work.resolve("out.so");
            Support.compile(work, "a reference", command(work, firstOutput, vectors, out));
            Seal.put(out);
            cache.publish(out, place);
          }
          return place;
        });
  }

  private static List<String> command(Path work, int firstOutput, Vectors vectors, Path out) {
    List<String> command = new ArrayList<>(List.of(Toolchain.find().cxx().toString()));
    command.addAll(FLAGS);
    command.add("-DPLUMB_" + vectors);
    command.add("-DFIRST_OUTPUT=" + firstOutput);
    command.addAll(List.of(work.resolve("rows.cpp").toString(), "-o", out.toString()));
    return command;
  }
}
