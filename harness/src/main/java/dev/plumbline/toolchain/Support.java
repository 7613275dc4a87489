package dev.plumbline.toolchain;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import java.util.function.Supplier;

/**
 * What models share and what is therefore compiled once for each tool chain: Verilator's run-time
 * library with our hooks in it, and the precompiled headers. Headers are most of the cost of
 * compiling a small design, so this is what makes a rebuild quick.
 */
final class Support {
  /** How far the compiler goes; a precompiled header serves one level only. */
  enum Level {
    /** For those that run for long. */
    O3,
    /** For those that run briefly: compiled as soon as by -O0, and several times as fast. */
    Og;

    String option() {
      return "-" + name();
    }
  }

  private static final String HEADER = "model.h.gch";

  private final Toolchain toolchain;
  private final CacheFolder cache;

  Support(Toolchain toolchain, CacheFolder cache) {
    this.toolchain = toolchain;
    this.cache = cache;
  }

  /** Flags of every compilation; a precompiled header is refused when they differ. */
  List<String> flags() {
    return List.of(
        "-std=gnu++17",
        "-fPIC",
        // As Verilator's own makefile has it: no landing pads for indirect jumps.
        "-fcf-protection=none",
        "-DVL_TIME_CONTEXT",
        "-pthread",
        "-I" + toolchain.include(),
        // For what a design makes public to C.
        "-I" + toolchain.include().resolve("vltstd"),
        "-w");
  }

  /**
   * Flags of a design's translation unit: calls inside it need not go through the linker. Whatever
   * bears on the meaning of C++ has to stand here, or the precompiled header is silently not used.
   */
  List<String> unitFlags(Level level) {
    List<String> flags = new ArrayList<>(flags());
    flags.addAll(List.of(level.option(), "-fvisibility=hidden"));
    // To tidy up its memory costs the compiler a fifth of the time that a small design takes.
    flags.addAll(List.of("--param", "ggc-min-heapsize=500000"));
    return flags;
  }

  /**
   * Makes what is missing of a level's header and of objects, side by side: the first build of a
   * tool chain waits for all of them, and each keeps one processor busy for seconds.
   */
  void makeReady(Level level, List<String> objects) {
    List<Supplier<Path>> parts = new ArrayList<>(List.of(() -> header(level)));
    objects.forEach(name -> parts.add(() -> object(name)));
    List<CompletableFuture<Path>> making = new ArrayList<>();
    for (Supplier<Path> part : parts) {
      making.add(CompletableFuture.supplyAsync(part, task -> new Thread(task, "support").start()));
    }
    try {
      making.forEach(CompletableFuture::join);
    } catch (CompletionException e) {
      throw e.getCause() instanceof RuntimeException cause ? cause : e;
    }
  }

  /** The folder with {@code model.h} and its precompiled form. */
  Path header(Level level) {
    String name = key("header " + level) + "-" + level;
    Path entry = cache.entry("support", name);
    if (Seal.looksWhole(entry.resolve(HEADER))) {
      return entry;
    }
    return cache.locked(
        "support",
        name,
        folder -> {
          if (!Seal.looksWhole(entry.resolve(HEADER))) {
            CacheFolder.remove(entry);
            Path work = Files.createDirectory(folder.resolve("header"));
            Resources.copy(work, "limits.h", "plumb.h", "ports.h");
            Files.writeString(
                work.resolve("model.h"),
                """
                #include "plumb.h"
                #include "ports.h"
                #include <cstring>
                #include <memory>
                #include <vector>
                """);
            List<String> command = new ArrayList<>(List.of(toolchain.cxx().toString()));
            command.addAll(unitFlags(level));
            command.addAll(List.of("-x", "c++-header", work.resolve("model.h").toString()));
            command.addAll(List.of("-o", work.resolve(HEADER).toString()));
            compile(work, "the common header", command);
            Seal.put(work.resolve(HEADER));
            cache.publish(work, entry);
          }
          return entry;
        });
  }

  /** The object file of one of Verilator's run-time sources, or of {@code runtime}, ours. */
  Path object(String name) {
    return file(
        key("object " + name) + "-" + name + ".o",
        "Verilator's run-time library",
        work -> {
          Resources.copy(work, "limits.h", "hooks.h", "plumb.h", "runtime.cpp");
          List<String> command = new ArrayList<>(List.of(toolchain.cxx().toString(), "-O2"));
          command.addAll(flags());
          if (name.equals("runtime")) {
            command.add("-DPLUMB_RANDOM=" + toolchain.random());
            command.add(work.resolve("runtime.cpp").toString());
          } else {
            command.addAll(List.of("-include", work.resolve("hooks.h").toString()));
            command.add("-I" + toolchain.include().resolve("vltstd"));
            command.add(toolchain.include().resolve(name + ".cpp").toString());
          }
          command.add("-c");
          return command;
        });
  }

  /** The program around a model that has a process of its own. */
  Path host() {
    return file(
        key("host " + Digest.of(Resources.text("host.cpp"))) + "-host",
        "the program for models in a process of their own",
        work -> {
          Resources.copy(work, "limits.h", "plumb.h", "host.cpp");
          List<String> command = new ArrayList<>(List.of(toolchain.cxx().toString(), "-O2"));
          command.addAll(flags());
          command.addAll(List.of(work.resolve("host.cpp").toString(), "-ldl"));
          return command;
        });
  }

  /** One file, made by a command that only lacks its name. */
  private Path file(String name, String what, CacheFolder.Work<List<String>> command) {
    Path entry = cache.entry("support", name);
    if (Seal.looksWhole(entry)) {
      return entry;
    }
    return cache.locked(
        "support",
        name,
        work -> {
          if (!Seal.looksWhole(entry)) {
            Path out = work.resolve("out");
            List<String> words = new ArrayList<>(command.in(work));
            words.addAll(List.of("-o", out.toString()));
            compile(work, what, words);
            Seal.put(out);
            cache.publish(out, entry);
          }
          return entry;
        });
  }

  /**
   * Looks at all that went into a library that could not be made, and takes out what is not as it
   * was made; says whether there was any. To look each time would take longer than to compile.
   */
  boolean removeSpoilt(Level level, List<String> objects) throws IOException {
    boolean any = false;
    if (!Seal.holds(header(level).resolve(HEADER))) {
      CacheFolder.remove(header(level));
      any = true;
    }
    for (String object : objects) {
      if (!Seal.holds(object(object))) {
        Files.deleteIfExists(object(object));
        any = true;
      }
    }
    return any;
  }

  static void compile(Path work, String what, List<String> command) throws IOException {
    Command.Outcome outcome =
        Command.start(work.resolve("log"), command).await("compiling " + what);
    outcome.requireMemory(what);
    if (!outcome.succeeded()) {
      throw new ToolchainException(
          "Cannot compile "
              + what
              + ": g++ ended with status "
              + outcome.status()
              + "; the command was "
              + outcome.commandLine()
              + System.lineSeparator()
              + outcome.output());
    }
    outcome.requireFile(Path.of(command.get(command.size() - 1)));
  }

  private String key(String what) {
    Digest digest = new Digest().add(toolchain.fingerprint()).add(what).addAll(flags());
    Resources.ALL.forEach(name -> digest.add(Resources.bytes(name)));
    return digest.hex().substring(0, 32);
  }
}
