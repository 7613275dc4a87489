package dev.plumbline.cosim;

import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.RtlException;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.rtl.Signals;
import dev.plumbline.toolchain.BuildNotes;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.toolchain.DesignBuilder;
import dev.plumbline.toolchain.DesignLibrary;
import dev.plumbline.toolchain.Toolchain;
import dev.plumbline.toolchain.ToolchainException;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/**
 * A design as native code, ready to be opened any number of times, by any threads.
 *
 * <pre>{@code
 * CompiledDesign model = CompiledDesign.of(RtlSource.of(Path.of("rtl/reciprocal.sv")).withParameter("W", "32"));
 * try (Dut dut = model.open()) {
 *   dut.set("in_x", 5);
 *   dut.cycles(10);
 *   long y = dut.get("out_y");
 * }
 * }</pre>
 *
 * <p>A design that imports C functions names the C or C++ files that have them beside its RTL, as
 * in {@code RtlSource.of(Path.of("bell.sv"), Path.of("ring.c"))}; it runs in a process of its own,
 * see {@link DutOptions}.
 *
 * <p>A design with several clocks is compiled when it is first opened, so that a clock nobody
 * drives is told before that.
 *
 * <p>Immutable. Models of different designs, and of different versions of one design, may live side
 * by side. Libraries stay loaded until the JVM ends.
 *
 * <p>Unless {@link BuildOptions.Optimisation} says otherwise, a model is compiled briefly; once it
 * has run for a while, a second process compiles a fast one beside it, and what is opened after
 * that is opened from the fast one. Nothing but the speed tells which of the two it was.
 */
public final class CompiledDesign {
  private static final Pattern READS = Pattern.compile("\\$(readmem[bh]|fopen|system)\\b");

  private final RtlSource source;
  private final BuildOptions options;
  private final DesignLibrary library;
  private final PortColumns columns;
  private final Tiers tiers;
  private CompiledDesign probe;
  private Signals signals;

  private CompiledDesign(RtlSource source, BuildOptions options) {
    this.source = source;
    this.options = options;
    this.library = library(source, options);
    this.columns = new PortColumns(library.design());
    this.tiers = new Tiers(source, options, library);
  }

  private static DesignLibrary library(RtlSource source, BuildOptions options) {
    try {
      DesignLibrary library = DesignBuilder.prepare(source, options);
      BuildNotes.add(BuildNotes.Note.of(source, options, library));
      return library;
    } catch (RtlException e) {
      List<Path> files =
          Stream.of(source.files(), source.fileLists()).flatMap(List::stream).toList();
      BuildNotes.add(new BuildNotes.Note(source, options, files, ""));
      throw e;
    }
  }

  /**
   * Builds a source, or finds the build made before, and loads it; assertions are checked.
   *
   * @param source what to read
   * @return the model
   * @throws dev.plumbline.rtl.RtlException when the source is refused
   * @throws dev.plumbline.toolchain.ToolchainException when the tool chain or the cache cannot be
   *     used
   */
  public static CompiledDesign of(RtlSource source) {
    return of(source, BuildOptions.defaults());
  }

  /**
   * Builds a source in a given way, or finds the build made before, and loads it.
   *
   * @param source what to read
   * @param options how to build it
   * @return the model
   * @throws dev.plumbline.rtl.RtlException when the source is refused
   * @throws dev.plumbline.toolchain.ToolchainException when the tool chain or the cache cannot be
   *     used
   */
  public static CompiledDesign of(RtlSource source, BuildOptions options) {
    return new CompiledDesign(source, options);
  }

  /**
   * What the RTL says of itself.
   *
   * @return the design
   */
  public Design design() {
    return library.design();
  }

  /**
   * Digest of the RTL's content, wherever its files are and whatever the tools.
   *
   * @return 64 hexadecimal digits
   */
  public String contentHash() {
    return library.contentHash();
  }

  /**
   * All that a verdict on this model depends on: the RTL's content, how it was built, the tool
   * chain.
   *
   * @return a text that another model has only where it behaves alike; empty where the model reads
   *     files or runs C code, which may be others the next time
   */
  public Optional<String> identity() {
    boolean reads = !library.hazard().isEmpty() || library.files().stream().anyMatch(this::reads);
    return reads
        ? Optional.empty()
        : Optional.of(
            contentHash() + " " + options.withOptimisation(false) + " " + Toolchain.find());
  }

  private boolean reads(Path file) {
    try {
      return READS.matcher(Files.readString(file, StandardCharsets.ISO_8859_1)).find();
    } catch (IOException e) {
      return true; // who knows
    }
  }

  /**
   * Opens the model with the default options.
   *
   * @return a new DUT, to be closed by the caller
   */
  public Dut open() {
    return open(DutOptions.defaults());
  }

  /**
   * Opens the model.
   *
   * @param options how
   * @return a new DUT, to be closed by the caller
   * @throws PortException when a clock is not an input of one bit, or the design has several clocks
   *     and the options name none
   */
  public Dut open(DutOptions options) {
    BuildNotes.add(BuildNotes.Note.of(source, this.options, library));
    List<Path> folders =
        source.files().stream().map(file -> file.toAbsolutePath().getParent()).toList();
    return new Dut(this, options.alsoIn(folders));
  }

  /**
   * The probe build of the same source, in which signals inside the design can be read by name. It
   * is made when this is first called; runs are several times slower.
   *
   * @return a model that behaves like this one, or this one itself
   */
  public synchronized CompiledDesign withInternals() {
    if (hasInternals()) {
      return this;
    }
    if (probe == null) {
      probe = new CompiledDesign(source, options.withInternals(true));
      if (!probe.contentHash().equals(contentHash())) {
        probe = null;
        throw new ToolchainException(
            "The source of module "
                + library.design().top()
                + " was changed after it was read, so what is inside the model cannot be told from"
                + " it; run it again");
      }
    }
    return probe;
  }

  /** The probe build of the same source that gives up logic that has not settled by then. */
  CompiledDesign givingUpAfter(int evaluations) {
    List<String> arguments = new ArrayList<>(source.extraArguments());
    arguments.add("--converge-limit");
    arguments.add(Integer.toString(evaluations));
    RtlSource limited =
        new RtlSource(
            source.files(),
            source.top(),
            source.includeFolders(),
            source.libraryFolders(),
            source.defines(),
            source.parameters(),
            source.fileLists(),
            arguments);
    return new CompiledDesign(limited, options.withInternals(true));
  }

  /**
   * Every signal of the hierarchy.
   *
   * @return parents before children, ports of instances among them; in a probe build also those
   *     that nobody reads
   */
  public synchronized Signals signals() {
    if (signals == null) {
      signals = DesignBuilder.signals(source, options);
    }
    return signals;
  }

  List<Path> sources() {
    return source.files();
  }

  boolean hasInternals() {
    return options.internals();
  }

  String sourceName(String name) {
    return library.sourceName(name);
  }

  /** The library in this process; loads it the first time. */
  NativeDesign code() {
    return NativeDesign.load(file());
  }

  /** The file of the library that a model is opened from now. */
  Path file() {
    return tiers.file();
  }

  Tiers tiers() {
    return tiers;
  }

  String hazard() {
    return library.hazard();
  }

  PortColumns columns() {
    return columns;
  }
}
