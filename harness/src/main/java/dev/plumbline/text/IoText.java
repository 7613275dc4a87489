package dev.plumbline.text;

import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.DirectoryNotEmptyException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.FileSystemException;
import java.nio.file.NoSuchFileException;

/** What an error of input or output was: the JDK's own text of one is often a bare file name. */
public final class IoText {
  private IoText() {}

  /**
   * Words an error.
   *
   * @param error what was thrown
   * @return what happened and to which file, without a full stop, such as {@code permission denied
   *     for /reports/evening}
   */
  public static String of(IOException error) {
    if (error instanceof FileSystemException of) {
      String what = of.getReason() == null ? byType(of) : of.getReason();
      return of.getFile() == null ? what : what + " for " + of.getFile();
    }
    String message = error.getMessage();
    return message == null ? error.getClass().getSimpleName() : message;
  }

  private static String byType(FileSystemException error) {
    if (error instanceof AccessDeniedException) {
      return "permission denied";
    }
    if (error instanceof NoSuchFileException) {
      return "no such file or folder";
    }
    if (error instanceof FileAlreadyExistsException) {
      return "it is there already";
    }
    if (error instanceof DirectoryNotEmptyException) {
      return "the folder is not empty";
    }
    return error.getClass().getSimpleName();
  }
}
