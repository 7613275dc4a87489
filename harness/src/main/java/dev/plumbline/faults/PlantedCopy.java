package dev.plumbline.faults;

import dev.plumbline.evidence.WholeFile;
import dev.plumbline.rtl.RtlSource;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;

/**
 * {@link Fault#plantedIn}. One file is enough: it stands in the place of its original among the
 * source files, and in a folder that is searched before all others.
 */
final class PlantedCopy {
  private final Fault fault;
  private final Path folder;
  private final Path copy;

  PlantedCopy(Fault fault, Path folder) {
    this.fault = fault;
    this.folder = folder;
    this.copy = folder.resolve(fault.file());
  }

  RtlSource of(RtlSource rtl) {
    Path original = find(rtl);
    WholeFile.write(copy, planted(original));
    return new RtlSource(
        rtl.files().stream().map(file -> isSame(file, original) ? copy : file).toList(),
        rtl.top(),
        copyFirst(rtl.includeFolders()),
        copyFirst(rtl.libraryFolders()),
        rtl.defines(),
        rtl.parameters(),
        rtl.fileLists(),
        rtl.extraArguments());
  }

  private Path find(RtlSource rtl) {
    Stream<Path> named = rtl.files().stream().filter(file -> file.endsWith(fault.file()));
    Stream<Path> searched =
        Stream.concat(rtl.includeFolders().stream(), rtl.libraryFolders().stream())
            .map(place -> place.resolve(fault.file()))
            .filter(Files::isRegularFile);
    return Stream.concat(named, searched)
        .findFirst()
        .orElseThrow(
            () ->
                new FaultException(
                    "Fault \""
                        + fault.name()
                        + "\" cannot be planted: there is no "
                        + fault.file()
                        + " among the files "
                        + rtl.files()
                        + " and in the folders "
                        + rtl.includeFolders()
                        + " and "
                        + rtl.libraryFolders()
                        + "; name a file that the RTL is read from."));
  }

  private static boolean isSame(Path file, Path original) {
    return file.toAbsolutePath().normalize().equals(original.toAbsolutePath().normalize());
  }

  private List<Path> copyFirst(List<Path> folders) {
    if (folders.isEmpty()) {
      return folders;
    }
    List<Path> all = new ArrayList<>(List.of(folder));
    all.addAll(folders);
    return all;
  }

  private String planted(Path original) {
    String text;
    try {
      text = Files.readString(original);
    } catch (IOException e) {
      throw new UncheckedIOException(
          "Fault \"" + fault.name() + "\" cannot be planted: " + original + " cannot be read.", e);
    }
    for (Fault.Change change : fault.changes()) {
      int first = text.indexOf(change.original());
      if (first < 0 || text.indexOf(change.original(), first + 1) >= 0) {
        throw new FaultException(
            "Fault \""
                + fault.name()
                + "\" cannot be planted: its original text stands "
                + (first < 0 ? "nowhere" : "more than once")
                + " in "
                + original
                + ", and must stand there once; follow the change of the RTL. The text is:"
                + System.lineSeparator()
                + change.original());
      }
      text = text.replace(change.original(), change.replacement());
    }
    return text;
  }
}
