package dev.plumbline.verdict;

import dev.plumbline.models.picture.Picture;
import java.util.Objects;

/**
 * A picture that shows something of a verdict; kept as a file of evidence, and shown on the page.
 *
 * @param file its name without an ending, such as {@code expected}: small letters and hyphens
 * @param caption what it shows, in a few words
 * @param picture what there is to see
 */
public record ShownPicture(String file, String caption, Picture picture) {
  /** Refuses names that are no plain names of files. */
  public ShownPicture {
    Objects.requireNonNull(caption, "caption");
    Objects.requireNonNull(picture, "picture");
    if (!file.matches("[a-z][a-z-]{0,39}")) {
      throw new IllegalArgumentException(
          "Picture of a verdict named \""
              + file
              + "\": it has to be up to 40 small letters and hyphens, a letter first.");
    }
  }
}
