package dev.plumbline.toolchain;

import dev.plumbline.rtl.RtlSource;
import java.nio.file.Path;
import java.util.List;
import java.util.function.Consumer;

/**
 * Tells whoever watches which designs are used, and what they were read from.
 *
 * <pre>{@code
 * BuildNotes.tell(note -> System.out.println(note.files()));
 * }</pre>
 */
public final class BuildNotes {
  private static volatile Consumer<Note> listener = note -> {};

  private BuildNotes() {}

  /**
   * A design that was made or opened, or that could not be made.
   *
   * @param source what was asked for
   * @param options how
   * @param files what it was read from; where it could not be made, the files that were named
   * @param library the file name of its library; empty where it could not be made
   */
  public record Note(RtlSource source, BuildOptions options, List<Path> files, String library) {
    /**
     * A note of a design that was made.
     *
     * @param source what was asked for
     * @param options how
     * @param made what came of it
     * @return the note
     */
    public static Note of(RtlSource source, BuildOptions options, DesignLibrary made) {
      return new Note(source, options, made.files(), made.file().getFileName().toString());
    }
  }

  /**
   * Sets who is told, by any thread; before, nobody is.
   *
   * @param who takes each note, again for each time a design is opened
   */
  public static void tell(Consumer<Note> who) {
    listener = who;
  }

  /**
   * Tells of a design.
   *
   * @param note what is known of it
   */
  public static void add(Note note) {
    listener.accept(note);
  }
}
