package dev.plumbline.watch;

import dev.plumbline.rtl.RtlException;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.toolchain.BuildNotes.Note;
import dev.plumbline.toolchain.DesignBuilder;
import dev.plumbline.toolchain.ToolchainException;
import java.nio.file.Path;
import java.util.Collection;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** One method with tests: how it stands, and which designs it used when it last ran. */
final class WatchedMethod {
  final String id;
  final String name;
  private final Set<Note> notes = new LinkedHashSet<>();
  private int redSince; // the round in which it turned red; 0 while it is not
  private int lastRound; // the latest that it ran in; 0 before the first

  WatchedMethod(String id, String name) {
    this.id = id;
    this.name = name;
  }

  /** The unique identifier of its class. */
  String container() {
    return id.substring(0, id.lastIndexOf("/["));
  }

  boolean isRed() {
    return redSince > 0;
  }

  int redSince() {
    return redSince;
  }

  boolean hasRunIn(int round) {
    return lastRound == round;
  }

  void ran(int round, boolean red) {
    lastRound = round;
    redSince = !red ? 0 : isRed() ? redSince : round;
  }

  void begins() {
    notes.clear();
  }

  void uses(Note note) {
    notes.add(note);
  }

  /** Folders in which a change may be one for this bench. */
  Stream<Path> folders() {
    return notes.stream().flatMap(WatchedMethod::folders);
  }

  private static Stream<Path> folders(Note note) {
    RtlSource source = note.source();
    return Stream.of(
            note.files().stream().map(file -> file.toAbsolutePath().normalize().getParent()),
            source.files().stream().map(file -> file.toAbsolutePath().normalize().getParent()),
            source.includeFolders().stream().map(folder -> folder.toAbsolutePath().normalize()),
            source.libraryFolders().stream().map(folder -> folder.toAbsolutePath().normalize()))
        .flatMap(places -> places);
  }

  /**
   * Whether it may behave otherwise after a change. A design of which Verilator makes the same C++
   * as before, since the change is in a module that it does not have, or in a comment, does not.
   *
   * @param changed files; none of them Java
   * @param known files of any design of any bench
   */
  boolean isReached(Collection<Path> changed, Set<Path> known) {
    if (lastRound == 0 || notes.isEmpty()) {
      return lastRound == 0 || isRed();
    }
    return notes.stream().anyMatch(note -> isReached(note, changed, known));
  }

  private static boolean isReached(Note note, Collection<Path> changed, Set<Path> known) {
    Set<Path> own = files(note);
    Set<Path> around = folders(note).collect(Collectors.toSet());
    boolean isRead = changed.stream().anyMatch(own::contains);
    // Files that no design was read from: new ones, and those that are read as a model runs.
    List<Path> near =
        changed.stream()
            .filter(file -> !known.contains(file) && around.contains(file.getParent()))
            .toList();
    return near.stream().anyMatch(file -> !file.toString().matches(".*\\.(v|sv|vh|svh|vlt)"))
        || ((isRead || !near.isEmpty()) && isAnother(note));
  }

  static Set<Path> files(Note note) {
    Set<Path> files = new LinkedHashSet<>();
    note.files().forEach(file -> files.add(file.toAbsolutePath().normalize()));
    return files;
  }

  /** Builds it, which whoever runs next finds done. */
  private static boolean isAnother(Note note) {
    try {
      return !DesignBuilder.prepare(note.source(), note.options())
          .file()
          .getFileName()
          .toString()
          .equals(note.library());
    } catch (RtlException | ToolchainException e) {
      return true; // its run says so
    }
  }

  Stream<Path> files() {
    return notes.stream().flatMap(note -> files(note).stream());
  }
}
