package dev.plumbline.rtl;

import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.function.UnaryOperator;

/**
 * Reads Verilator's elaborated description of a design.
 *
 * <pre>{@code
 * Design design = DesignReader.fromXml(Path.of("work/Vreciprocal.xml"), source.parameters());
 * }</pre>
 *
 * <p>The description is what {@code verilator --xml-only} writes (5.006 to 5.032 at least) or,
 * where that option is gone, {@code verilator --json-only}. Where both exist the XML is the one to
 * read: the JSON of 5.032 leaves out signs. Relative file names in it are those Verilator was
 * given; the XML tells neither {@code packed} nor string parameters apart from their neighbours, so
 * the source files it names are looked at again and should still be where they were.
 *
 * <p>Starts no process and writes nothing.
 */
public final class DesignReader {
  private DesignReader() {}

  /**
   * Reads the XML form.
   *
   * @param xml the file that {@code --xml-only} wrote
   * @param overrides the parameter overrides the design was elaborated with, name to Verilog
   *     literal
   * @return the design
   * @throws RtlException when the file cannot be read, or when a port cannot be driven; every such
   *     port is then a message
   */
  public static Design fromXml(Path xml, Map<String, String> overrides) {
    return fromXml(xml, overrides, UnaryOperator.identity());
  }

  /**
   * Reads the XML form of a source that Verilator knew by other names.
   *
   * @param xml the file that {@code --xml-only} wrote
   * @param overrides as {@link #fromXml(Path, Map)}
   * @param names from a file's name there to the one it goes by
   * @return the design
   * @throws RtlException as {@link #fromXml(Path, Map)}
   */
  public static Design fromXml(
      Path xml, Map<String, String> overrides, UnaryOperator<String> names) {
    return read(XmlTree.read(xml, names), overrides);
  }

  /**
   * Reads the JSON form, for versions that no longer write XML.
   *
   * @param tree the file that {@code --json-only-output} names
   * @param meta the file with the table of source files that stands beside it
   * @param overrides the parameter overrides the design was elaborated with, name to Verilog
   *     literal
   * @return the design
   * @throws RtlException as {@link #fromXml(Path, Map)}, and when the JSON leaves out signs as
   *     5.032 does
   */
  public static Design fromJson(Path tree, Path meta, Map<String, String> overrides) {
    return fromJson(tree, meta, overrides, UnaryOperator.identity());
  }

  /**
   * Reads the JSON form of a source that Verilator knew by other names.
   *
   * @param tree as {@link #fromJson(Path, Path, Map)}
   * @param meta as {@link #fromJson(Path, Path, Map)}
   * @param overrides as {@link #fromJson(Path, Path, Map)}
   * @param names from a file's name there to the one it goes by
   * @return the design
   * @throws RtlException as {@link #fromJson(Path, Path, Map)}
   */
  public static Design fromJson(
      Path tree, Path meta, Map<String, String> overrides, UnaryOperator<String> names) {
    return read(JsonTree.read(tree, meta, names), overrides);
  }

  /**
   * Reads the signals of the whole hierarchy from the XML form.
   *
   * @param xml the file that {@code --xml-only} wrote
   * @param names from a file's name there to the one it goes by
   * @return every signal
   * @throws RtlException when the file cannot be read
   */
  public static Signals signalsFromXml(Path xml, UnaryOperator<String> names) {
    return read(XmlTree.read(xml, names), DesignReader::signals);
  }

  /**
   * Reads the signals of the whole hierarchy from the JSON form.
   *
   * @param tree the file that {@code --json-only-output} names
   * @param meta the file with the table of source files that stands beside it
   * @param names from a file's name there to the one it goes by
   * @return every signal
   * @throws RtlException when the file cannot be read
   */
  public static Signals signalsFromJson(Path tree, Path meta, UnaryOperator<String> names) {
    return read(JsonTree.read(tree, meta, names), DesignReader::signals);
  }

  static Design read(Tree tree, Map<String, String> overrides) {
    return read(tree, whole -> design(whole, overrides));
  }

  private static Signals signals(Tree tree) {
    Nesting.check(tree);
    Hierarchy hierarchy = new Hierarchy(tree);
    Types types = new Types(tree, new SourceText());
    return new Signals(SignalFinder.of(hierarchy, types), DataFlow.of(hierarchy));
  }

  private static <T> T read(Tree tree, Function<Tree, T> reader) {
    try {
      return reader.apply(tree);
    } catch (RtlException e) {
      throw e;
    } catch (StackOverflowError e) {
      throw new RtlException(
          "The statements of \""
              + tree.top().name
              + "\" nest too deeply to be followed; split them, or give Java a larger stack"
              + " (-Xss16m)",
          List.of(),
          e);
    } catch (RuntimeException e) {
      // A shape of tree that no version met so far has given.
      throw new RtlException(
          "Cannot make sense of Verilator's description of \""
              + tree.top().name
              + "\"; please report it with the file it wrote",
          List.of(),
          e);
    }
  }

  private static Design design(Tree tree, Map<String, String> overrides) {
    Nesting.check(tree);
    SourceText source = new SourceText();
    Types types = new Types(tree, source);
    Node top = tree.top();
    List<Port> ports = PortReader.ports(top, types);
    Hierarchy hierarchy = new Hierarchy(tree);
    ClockFinder finder = new ClockFinder(hierarchy, types, ports);
    List<Clock> clocks = finder.clocks(ports);
    List<StateElement> state = new StateFinder(types).of(hierarchy);
    return new Design(
        Hierarchy.sourceName(top),
        ports,
        new Parameters(types, source, overrides).of(top),
        clocks,
        finder.resets(ports),
        state,
        hierarchy.instances(),
        files(tree),
        PortClocks.of(hierarchy, types, ports, clocks, state));
  }

  /** Without Verilator's own library files and its names for what is no file at all. */
  private static List<Path> files(Tree tree) {
    return tree.files().stream()
        .filter(file -> !file.startsWith("<") && !file.matches(".*[/\\\\]verilated_std\\w*\\.\\w+"))
        .distinct()
        .map(Path::of)
        .toList();
  }
}
