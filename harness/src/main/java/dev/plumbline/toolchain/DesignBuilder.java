package dev.plumbline.toolchain;

import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.RtlException;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.rtl.Signals;
import dev.plumbline.text.IoText;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.function.Predicate;

/**
 * Turns a source into a shared library, or finds the one made before.
 *
 * <pre>{@code
 * DesignLibrary library = DesignBuilder.build(source, BuildOptions.defaults());
 * }</pre>
 *
 * <p>Libraries are kept in {@code ~/.cache/plumbline}, or where the property {@code
 * plumbline.cache} says, under the digest of all that goes into them. When nothing that an earlier
 * build read has changed, no program is started at all; when the RTL has changed but not what
 * Verilator makes of it, as with a comment, the C++ compiler is not.
 *
 * <p>C and C++ files ({@code .c}, {@code .cc}, {@code .cpp}, {@code .cxx}) among the source's files
 * are the functions that the design imports; they are compiled and linked with it.
 */
public final class DesignBuilder {
  /** How much of the compiler's time a library is given. */
  private enum Effort {
    /** The model may not run for long. */
    BRIEF,
    /** The model is to be fast. */
    FULL
  }

  /**
   * What is asked for.
   *
   * @param effort how much of it
   * @param awaited whether somebody waits, and is told how it goes
   */
  private record Wish(Effort effort, boolean awaited) {}

  /** How a library is linked. */
  static final List<String> LINK =
      List.of(
          "-shared",
          "-Wl,--wrap=system,--wrap=fopen,--wrap=fclose,--wrap=fseek,--wrap=ftell",
          // Our random functions stand in for Verilator's; runtime.cpp says why.
          "-Wl,--allow-multiple-definition",
          "-Wl,-z,defs");

  private final Toolchain toolchain;
  private final CacheFolder cache;
  private final Support support;

  DesignBuilder(Toolchain toolchain, CacheFolder cache) {
    this.toolchain = toolchain;
    this.cache = cache;
    this.support = new Support(toolchain, cache);
  }

  /**
   * Builds a source.
   *
   * @param source what to read
   * @param options how to build it
   * @return the library and what its design says of itself
   * @throws RtlException when Verilator refuses the source, or it has a port that cannot be driven
   * @throws ToolchainException when a program is missing or too old, or the cache cannot be used
   */
  public static DesignLibrary build(RtlSource source, BuildOptions options) {
    return new DesignBuilder(Toolchain.find(), CacheFolder.find()).find(source, options);
  }

  /**
   * Builds a source, but leaves out the compilation where the design has several clocks: whoever
   * opens it may not have said how they are driven, and had better hear so before minutes have gone
   * by.
   *
   * @param source what to read
   * @param options how to build it
   * @return as {@link #build}; there may not be such a file until {@link #build} is called
   * @throws RtlException as {@link #build}
   * @throws ToolchainException as {@link #build}
   */
  public static DesignLibrary prepare(RtlSource source, BuildOptions options) {
    return new DesignBuilder(Toolchain.find(), CacheFolder.find())
        .find(source, options, DesignBuilder::isCompiledLater);
  }

  /**
   * Whether {@link #prepare} leaves out the compilation: the design has several clocks, or its
   * benches may not have to run (property {@code plumbline.passed}).
   *
   * @param design what is prepared
   * @return true where there may be no library before {@link #build} is called
   */
  public static boolean isCompiledLater(Design design) {
    return design.clocks().size() > 1 || !System.getProperty("plumbline.passed", "").isEmpty();
  }

  /**
   * Makes the fast library of a source whose model is to be optimised later, in this thread, with
   * nothing said about it.
   *
   * @param source what was built
   * @param options how it was
   * @return the library; of the source as it is now
   * @throws RtlException as {@link #build}
   * @throws ToolchainException as {@link #build}
   */
  public static DesignLibrary optimise(RtlSource source, BuildOptions options) {
    return new DesignBuilder(Toolchain.find(), CacheFolder.find())
        .find(source, options, new Wish(Effort.FULL, false), design -> false);
  }

  /**
   * Lists the signals of the whole hierarchy; builds the source, or finds the build made before.
   *
   * @param source what to read
   * @param options how to build it
   * @return the signals
   * @throws RtlException as {@link #build}
   * @throws ToolchainException as {@link #build}
   */
  public static Signals signals(RtlSource source, BuildOptions options) {
    DesignBuilder builder = new DesignBuilder(Toolchain.find(), CacheFolder.find());
    SourceNames names = SourceNames.of(source, builder.cache.entry("names", ""));
    builder.find(source, options);
    try {
      Path description = builder.description(source, names, options);
      return Elaborator.signals(names, description);
    } catch (IOException e) {
      throw new ToolchainException(
          "The description of "
              + Elaborator.name(source)
              + " is not in the cache: "
              + IoText.of(e)
              + "; its source may have been changed while it was read, so run it again",
          e);
    }
  }

  /** The description that came with the library that {@link #find} finds. */
  private Path description(RtlSource source, SourceNames names, BuildOptions options)
      throws IOException {
    Path fast = entry(source, options, Effort.FULL);
    boolean isFast = isLater(options) && known(source, names, fast) != null;
    Path entry = isFast ? fast : entry(source, options, effort(options));
    return cache.entry("elaborated", Elaborated.read(entry).description());
  }

  DesignLibrary find(RtlSource source, BuildOptions options) {
    return find(source, options, design -> false);
  }

  private DesignLibrary find(RtlSource source, BuildOptions options, Predicate<Design> later) {
    if (isLater(options)) {
      SourceNames names = SourceNames.of(source, cache.entry("names", ""));
      DesignLibrary fast = known(source, names, entry(source, options, Effort.FULL));
      if (fast != null) {
        return fast;
      }
    }
    return find(source, options, new Wish(effort(options), true), later);
  }

  private DesignLibrary find(
      RtlSource source, BuildOptions options, Wish wish, Predicate<Design> later) {
    Path entry = entry(source, options, wish.effort());
    SourceNames names = SourceNames.of(source, cache.entry("names", ""));
    DesignLibrary known = known(source, names, entry);
    if (known != null) {
      return known;
    }
    return cache.locked(
        // Nobody who waits for another model shall wait for one that nobody waits for.
        wish.awaited() ? "model" : "beside",
        entry.getFileName().toString(),
        work -> {
          // Another process may have built it while this one waited.
          DesignLibrary built = known(source, names, entry);
          return built != null ? built : make(source, options, wish, work, entry, later);
        });
  }

  private static Effort effort(BuildOptions options) {
    boolean first = options.optimisation() == BuildOptions.Optimisation.FIRST;
    return first && !options.internals() ? Effort.FULL : Effort.BRIEF;
  }

  private static boolean isLater(BuildOptions options) {
    return options.optimisation() == BuildOptions.Optimisation.LATER && !options.internals();
  }

  /** What is there for a request if nothing has changed since, else null. */
  private DesignLibrary known(RtlSource source, SourceNames names, Path entry) {
    try {
      Elaborated elaborated = Elaborated.read(entry);
      Path library = cache.entry("libraries", elaborated.library());
      Path description = cache.entry("elaborated", elaborated.description());
      if (!elaborated.receipt().stillHolds() || !Seal.holds(library) || !described(description)) {
        return null;
      }
      return new DesignLibrary(
          Elaborator.read(source, names, description),
          library,
          elaborated.contentHash(),
          elaborated.receipt().files(),
          elaborated.hazard(),
          names.all());
    } catch (IOException e) {
      // Not there, or spoilt from outside: a new one takes its place.
      return null;
    }
  }

  /** Whether a description is there and as it was kept: its name is its digest. */
  private static boolean described(Path folder) throws IOException {
    return Files.isDirectory(folder)
        && folder.getFileName().toString().equals(descriptionName(folder));
  }

  private static String descriptionName(Path folder) throws IOException {
    return Digest.ofFolder(folder) + "-description";
  }

  private DesignLibrary make(
      RtlSource source,
      BuildOptions options,
      Wish wish,
      Path work,
      Path entry,
      Predicate<Design> later)
      throws IOException {
    Instant start = Instant.now();
    CacheFolder.requireExecution(work);
    SourceNames names = Elaborator.names(source, cache.entry("names", ""));
    if (options.internals()) {
      Elaborator.keepAll(work);
    }
    Command describe = Elaborator.describe(toolchain, names, work);
    String name = Elaborator.name(source);
    boolean awaited = wish.awaited();
    String elaborating = awaited ? "elaborating " + name : "";
    if (options.internals()) {
      // What is to be readable has to be known before the C++ is written.
      Elaborator.ensureDescribed(toolchain, names, work, describe.await(elaborating));
      Elaborator.makeReadable(names, work);
    }
    Command generate = Elaborator.generate(toolchain, names, options, work);
    // Both are awaited before either is judged, so that neither outlives the work folder.
    Command.Outcome described = describe.await(elaborating);
    Command.Outcome generated = generate.await(awaited ? "writing the C++ of " + name : "");
    Path code = work.resolve("cc");
    Elaborator.ensureDescribed(toolchain, names, work, described);
    Elaborator.check(names, generated, code.resolve(Generated.ROOT_HEADER));
    // A probe build, and one that is made beside another, would repeat what the first one said.
    if (!options.internals() && awaited) {
      String wanted = System.getProperty(LintWarnings.PROPERTY, "");
      LintWarnings.print(System.err, name, Elaborator.messages(names, generated), wanted);
    }

    Design design = Elaborator.read(source, names, work);
    OneThread.tidy(code);
    if (wish.effort() == Effort.FULL) {
      Branches.tidy(code, Generated.in(code).sources());
    }
    Generated cpp = Generated.in(code);
    String hazard = Hazards.of(work, cpp);
    CSources functions = new CSources(toolchain, source);
    List<Path> files = new ArrayList<>();
    Receipt.filesRead(code.resolve("Vdut__verFiles.dat"), toolchain.include()).stream()
        .filter(read -> !read.startsWith(work)) // our own control file
        .filter(read -> !isVerilator(read)) // which lists itself; the request has its version
        .forEach(read -> files.add(Path.of(names.original(read.toString()))));
    List<Path> functionFiles = functions.read(code);
    boolean brief = wish.effort() == Effort.BRIEF;
    Support.Level level = brief ? Support.Level.Og : Support.Level.O3;
    List<String> units = UnitCode.of(design, cpp, level, options);
    String file = libraryKey(cpp, units, level, functionFiles) + ".so";
    Path library = cache.entry("libraries", file);
    files.addAll(functionFiles);
    String contentHash = contentHash(source, files);
    List<Path> read = files.stream().distinct().toList();
    if (!Seal.holds(library)) {
      if (later.test(design)) {
        return new DesignLibrary(design, library, contentHash, read, hazard, names.all());
      }
      Path made =
          new Compilation(toolchain, support, cpp, level).of(design, units, functions, awaited);
      Seal.put(made);
      cache.publish(made, library);
    }
    // A file that was written meanwhile may not be what Verilator read: then prove nothing.
    if (newest(files).isBefore(start)) {
      Path description = Files.createDirectory(work.resolve("description"));
      Elaborator.keep(work, description);
      String kept = descriptionName(description);
      Path place = cache.entry("elaborated", kept);
      if (Files.exists(place) && !described(place)) {
        CacheFolder.remove(place);
      }
      cache.publish(description, place);
      Path record = work.resolve("record");
      new Elaborated(file, contentHash, kept, hazard, Receipt.of(source, files)).write(record);
      cache.publish(record, entry);
    }
    return new DesignLibrary(design, library, contentHash, read, hazard, names.all());
  }

  private boolean isVerilator(Path file) {
    return file.getFileName().equals(toolchain.verilator().getFileName());
  }

  /** Where the cache has what answers a request. */
  private Path entry(RtlSource source, BuildOptions options, Effort effort) {
    Digest request = new Digest();
    request
        .add(toolchain.fingerprint())
        .add(recipe())
        .add(Path.of("").toAbsolutePath().toString())
        .add(effort + (options.internals() ? " internals" : ""))
        .addAll(VerilatorArguments.of(options))
        .addAll(VerilatorArguments.of(source));
    return cache.entry("elaborated", request.hex());
  }

  private String libraryKey(
      Generated cpp, List<String> units, Support.Level level, List<Path> functionFiles)
      throws IOException {
    Digest digest = new Digest().add(toolchain.fingerprint()).add(recipe()).add(level.name());
    digest.addAll(support.unitFlags(level)).addAll(units);
    for (Path file : functionFiles) {
      digest.add(Digest.of(file));
    }
    cpp.addTo(digest);
    return digest.hex();
  }

  /** What of this program goes into a library: its C++ and the class that writes more of it. */
  private static String recipe() {
    Digest digest = new Digest();
    Resources.ALL.forEach(name -> digest.add(Resources.bytes(name)));
    for (Class<?> type :
        List.of(
            PortCode.class,
            Ends.class,
            DesignBuilder.class,
            Elaborator.class,
            UnitCode.class,
            OneThread.class,
            Branches.class,
            Compilation.class,
            Support.class,
            CSources.class,
            Hazards.class)) {
      digest.add(Resources.bytes(type.getSimpleName() + ".class"));
    }
    return digest.hex();
  }

  private static String contentHash(RtlSource source, List<Path> files) throws IOException {
    List<String> contents = new ArrayList<>();
    for (Path file : files) {
      contents.add(Digest.of(file));
    }
    Collections.sort(contents);
    return new Digest()
        .add(source.top())
        .addAll(source.defines().entrySet())
        .addAll(source.parameters().entrySet())
        .addAll(source.extraArguments())
        .addAll(contents)
        .hex();
  }

  private static Instant newest(List<Path> files) throws IOException {
    Instant newest = Instant.MIN;
    for (Path file : files) {
      Instant time = Files.getLastModifiedTime(file).toInstant();
      newest = time.isAfter(newest) ? time : newest;
    }
    return newest;
  }
}
