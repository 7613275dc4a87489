package dev.plumbline.verdict;

import dev.plumbline.PlumblineException;
import java.nio.file.Path;

/** Goes with what a DUT threw that ended by itself, so that its stack trace names the folder. */
final class RowsKept extends PlumblineException {
  private static final long serialVersionUID = 1;

  RowsKept(Path folder) {
    super("The last rows before that are in " + folder + ". See facts.txt and mismatch.csv", null);
  }
}
