package dev.plumbline.toolchain;

import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.DesignReader;
import dev.plumbline.rtl.RtlException;
import dev.plumbline.rtl.RtlException.Message;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.rtl.Signal;
import dev.plumbline.rtl.Signals;
import dev.plumbline.rtl.SourceLocation;
import dev.plumbline.rtl.VerilatorMessages;
import dev.plumbline.text.IoText;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;

/**
 * Has Verilator elaborate a source, and reads what it says of the design.
 *
 * <pre>{@code
 * Design design = Elaborator.elaborate(RtlSource.of(Path.of("rtl/reciprocal.sv")));
 * }</pre>
 *
 * <p>Relative names are taken from the folder in which this process was started.
 */
public final class Elaborator {
  private static final String XML = "description.xml";
  private static final String TREE = "description.tree.json";
  private static final String META = "description.meta.json";

  /** Verilator's control file by which signals can be read; nothing may write them. */
  private static final String CONTROL = "internals.vlt";

  /** The one by which none is left out of a description because nobody reads it. */
  private static final String KEPT = "kept.vlt";

  private Elaborator() {}

  /**
   * Elaborates a source without building anything.
   *
   * @param source what to read
   * @return the design
   * @throws RtlException when Verilator refuses it, or it has a port that cannot be driven
   * @throws ToolchainException when Verilator is missing or too old
   */
  public static Design elaborate(RtlSource source) {
    Toolchain toolchain = Toolchain.find();
    try {
      Path work = Files.createTempDirectory("plumbline");
      SourceNames names = names(source, work.resolve("names"));
      try {
        Command described = describe(toolchain, names, work);
        ensureDescribed(toolchain, names, work, described.await("elaborating " + name(source)));
        return read(source, names, work);
      } finally {
        CacheFolder.remove(work);
      }
    } catch (IOException e) {
      throw new ToolchainException(
          "Cannot keep files of an elaboration: "
              + IoText.of(e)
              + "; make room for temporary files",
          e);
    }
  }

  /** The names by which Verilator is to know a source; links are in place when this is done. */
  static SourceNames names(RtlSource source, Path folder) throws IOException {
    VerilatorArguments.checkFileLists(source);
    SourceNames names = SourceNames.of(source, folder);
    names.link();
    return names;
  }

  /** Starts the run that writes the description into a folder, as XML. */
  static Command describe(Toolchain toolchain, SourceNames names, Path work) {
    return describe(
        toolchain,
        names,
        work,
        List.of("--xml-only", "--xml-output", work.resolve(XML).toString()));
  }

  /** Has the description written as JSON where that run was refused its XML, as newer ones do. */
  static void ensureDescribed(
      Toolchain toolchain, SourceNames names, Path work, Command.Outcome xml) {
    if (xml.succeeded() || !xml.output().contains("Invalid option: --xml-only")) {
      check(names, xml, work.resolve(XML));
      return;
    }
    List<String> json =
        List.of(
            "--json-only",
            "--json-only-output",
            work.resolve(TREE).toString(),
            "--json-only-meta-output",
            work.resolve(META).toString());
    check(names, describe(toolchain, names, work, json).await(), work.resolve(TREE));
  }

  private static Command describe(
      Toolchain toolchain, SourceNames names, Path work, List<String> form) {
    List<String> command = new ArrayList<>(List.of(toolchain.verilator().toString()));
    command.addAll(form);
    if (Files.exists(work.resolve(KEPT))) {
      command.add(work.resolve(KEPT).toString());
      // Or statements are turned round before they are written down, and signals put in their place
      // or taken out: y of "y = a + b; x = y" would be made from x. Which is made from which has to
      // be as the source says.
      command.add("-fno-dfg");
    }
    command.addAll(List.of("--Mdir", work.resolve("described").toString()));
    command.addAll(VerilatorArguments.of(names.source()));
    return Command.start(work.resolve("described.log"), command);
  }

  /** Starts the run that writes C++ into the folder's subfolder {@code cc}. */
  static Command generate(Toolchain toolchain, SourceNames names, BuildOptions options, Path work)
      throws IOException {
    List<String> command = new ArrayList<>(List.of(toolchain.verilator().toString()));
    command.addAll(List.of("--cc", "--prefix", VerilatorArguments.PREFIX));
    command.addAll(List.of("--Mdir", work.resolve("cc").toString()));
    command.addAll(VerilatorArguments.of(options));
    if (options.internals()) {
      command.add(work.resolve(CONTROL).toString());
    }
    command.addAll(VerilatorArguments.of(names.source()));
    return Command.start(work.resolve("cc.log"), command);
  }

  /** Turns a run that failed, or that left nothing, into an exception. */
  static void check(SourceNames names, Command.Outcome outcome, Path left) {
    outcome.requireMemory(names.originals(name(names.source())));
    if (!outcome.succeeded() && outcome.output().isBlank()) {
      throw new ToolchainException(
          outcome.words().get(0)
              + " ended with status "
              + outcome.status()
              + " and said nothing while it elaborated "
              + names.originals(name(names.source()))
              + ", as a program does that is killed when memory is short; make room, or make what"
              + " is very wide or long in the design smaller");
    }
    if (!outcome.succeeded()) {
      throw new RtlException(
          "Verilator cannot elaborate "
              + names.originals(name(names.source()))
              + "; mend what it names",
          originals(names, VerilatorMessages.errors(outcome.output())));
    }
    outcome.requireFile(left);
  }

  /** What Verilator said, warnings as well, by the names that the user knows. */
  static List<Message> messages(SourceNames names, Command.Outcome outcome) {
    return originals(names, VerilatorMessages.all(outcome.output()));
  }

  private static List<Message> originals(SourceNames names, List<Message> messages) {
    return messages.stream().map(message -> original(names, message)).toList();
  }

  private static Message original(SourceNames names, Message message) {
    SourceLocation place = message.location();
    return new Message(
        new SourceLocation(names.original(place.file()), place.line(), place.column()),
        names.originals(message.text()));
  }

  /** Reads the description that was left in a folder. */
  static Design read(RtlSource source, SourceNames names, Path folder) {
    Path xml = folder.resolve(XML);
    try {
      return Files.exists(xml)
          ? DesignReader.fromXml(xml, source.parameters(), names::original)
          : DesignReader.fromJson(
              folder.resolve(TREE), folder.resolve(META), source.parameters(), names::original);
    } catch (RtlException e) {
      if (e.getCause() == null) {
        throw e;
      }
      // 5.006 writes a module's or instance's name as it stands where XML has no quotation marks.
      throw new RtlException(
          "What Verilator says of "
              + name(source)
              + " cannot be read. A module or instance may have a quotation mark, an ampersand or a"
              + " bracket in its name; give it another",
          List.of(),
          e);
    }
  }

  /** Has descriptions list all signals. */
  static void keepAll(Path work) throws IOException {
    Files.writeString(
        work.resolve(KEPT), "`verilator_config\npublic_flat_rd -module \"*\" -var \"*\"\n");
  }

  /** Writes the control file that a build with internals takes, from the description. */
  static void makeReadable(SourceNames names, Path work) throws IOException {
    Set<String> lines = new LinkedHashSet<>(List.of("`verilator_config"));
    for (Signal signal : signals(names, work).all()) {
      // One by one: a pattern for all would take in genvars, which are not there in the C++.
      lines.add(
          "public_flat_rd -module \"" + signal.module() + "\" -var \"" + signal.name() + "\"");
    }
    Files.write(work.resolve(CONTROL), lines);
  }

  /** Reads the signals of the description that was left in a folder. */
  static Signals signals(SourceNames names, Path folder) {
    Path xml = folder.resolve(XML);
    return Files.exists(xml)
        ? DesignReader.signalsFromXml(xml, names::original)
        : DesignReader.signalsFromJson(folder.resolve(TREE), folder.resolve(META), names::original);
  }

  /** Moves the description from a work folder to the one where it is kept. */
  static void keep(Path work, Path folder) throws IOException {
    for (String file : List.of(XML, TREE, META)) {
      if (Files.exists(work.resolve(file))) {
        Files.move(work.resolve(file), folder.resolve(file));
      }
    }
  }

  static String name(RtlSource source) {
    return source.top().isEmpty() ? source.files().toString() : "module " + source.top();
  }
}
