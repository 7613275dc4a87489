package dev.plumbline.toolchain;

import dev.plumbline.rtl.RtlException;
import dev.plumbline.rtl.RtlSource;
import java.io.IOException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.regex.Pattern;

/**
 * Names that Verilator takes for files and folders whose own names it does not: it cuts them at a
 * blank, a tab or a double quote, replaces {@code ${HOME}}, takes a leading dash for an option, and
 * fails to write {@code >} into its XML (found on 5.006).
 *
 * <p>Such a file is reached through a link to its folder. A link is named by the digest of the
 * folder's path, so that it is the same every time, and with it what Verilator writes. Whatever
 * Verilator says is put back into the user's own names by {@link #original}.
 */
final class SourceNames {
  private static final Pattern SAFE = Pattern.compile("[\\w./=,@~][\\w./+=,@~-]*");

  private final Path folder;
  private final Map<String, String> originals = new LinkedHashMap<>();
  private final Map<Path, Path> links = new LinkedHashMap<>();
  private final RtlSource source;

  private SourceNames(RtlSource given, Path folder) {
    this.folder = folder;
    RtlSource safe =
        new RtlSource(
            given.files().stream().map(this::file).toList(),
            given.top(),
            given.includeFolders().stream().map(this::folder).toList(),
            given.libraryFolders().stream().map(this::folder).toList(),
            given.defines(),
            given.parameters(),
            given.fileLists().stream().map(this::file).toList(),
            given.extraArguments());
    // A file under a name of its own has left the folder in which its includes are looked for.
    for (Path file : given.files()) {
      if (!isSafe(file.getFileName())) {
        safe = safe.withIncludeFolder(folder(folderOf(file)));
      }
    }
    this.source = safe;
  }

  /**
   * The names for a source.
   *
   * @param folder where links are made, when there are any to make
   */
  static SourceNames of(RtlSource source, Path folder) {
    return new SourceNames(source, folder);
  }

  /** The source under names that Verilator takes. */
  RtlSource source() {
    return source;
  }

  /** Makes the links. */
  void link() throws IOException {
    if (links.isEmpty()) {
      return;
    }
    if (!isSafe(folder)) {
      throw new ToolchainException(
          "Verilator cannot read "
              + originals.values().iterator().next()
              + ", nor a link to it in "
              + folder
              + ": both have characters in their names at which it stumbles; name a cache folder of"
              + " plain letters by -Dplumbline.cache=FOLDER");
    }
    Files.createDirectories(folder);
    for (Map.Entry<Path, Path> link : links.entrySet()) {
      link(link.getKey(), link.getValue());
    }
  }

  private static void link(Path link, Path target) throws IOException {
    try {
      Files.createSymbolicLink(link, target);
    } catch (FileAlreadyExistsException e) {
      if (!Files.isSymbolicLink(link) || !Files.readSymbolicLink(link).equals(target)) {
        Path another = link.resolveSibling(UUID.randomUUID().toString());
        Files.createSymbolicLink(another, target);
        Files.move(another, link, StandardCopyOption.ATOMIC_MOVE);
      }
    }
  }

  /** What each link stands for, in the user's own words. */
  Map<String, String> all() {
    return originals;
  }

  /** A file's name as the user gave it, for one that Verilator tells. */
  String original(String name) {
    return original(originals, name);
  }

  static String original(Map<String, String> originals, String name) {
    for (Map.Entry<String, String> entry : originals.entrySet()) {
      String link = entry.getKey();
      if (name.equals(link)) {
        return entry.getValue();
      }
      if (name.startsWith(link + "/")) {
        return Path.of(entry.getValue()).resolve(name.substring(link.length() + 1)).toString();
      }
    }
    return name;
  }

  /** A text with every link in it replaced by what it stands for. */
  String originals(String text) {
    String own = text;
    for (Map.Entry<String, String> entry : originals.entrySet()) {
      if (entry.getValue().isEmpty()) {
        own = own.replace(entry.getKey() + "/", "");
      }
      own = own.replace(entry.getKey(), entry.getValue());
    }
    return own;
  }

  private Path file(Path file) {
    if (isSafe(file)) {
      return file;
    }
    Path name = file.getFileName();
    if (name == null) {
      throw new RtlException("\"" + file + "\" is no file: name a Verilog source", List.of());
    }
    if (isSafe(name)) {
      return folder(folderOf(file)).resolve(name);
    }
    String text = name.toString();
    String ending = text.substring(Math.max(0, text.lastIndexOf('.')));
    return replace(file, SAFE.matcher(ending).matches() ? ending : "");
  }

  private static Path folderOf(Path file) {
    return file.getParent() == null ? Path.of("") : file.getParent();
  }

  private Path folder(Path given) {
    return isSafe(given) || given.toString().isEmpty() ? given : replace(given, "");
  }

  private Path replace(Path given, String ending) {
    Path target = given.toAbsolutePath();
    Path link = folder.resolve(Digest.of(target.toString()).substring(0, 32) + ending);
    links.put(link, target);
    originals.put(link.toString(), given.toString());
    return link;
  }

  private static boolean isSafe(Path name) {
    return name != null && SAFE.matcher(name.toString()).matches();
  }
}
