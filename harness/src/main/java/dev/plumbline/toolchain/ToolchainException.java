package dev.plumbline.toolchain;

import dev.plumbline.PlumblineException;
import java.nio.file.Path;

/**
 * A tool chain or cache that cannot be used: which part, what was found, what was wanted, what to
 * do.
 */
public class ToolchainException extends PlumblineException {
  private static final long serialVersionUID = 1;

  private static final String EXECUTION =
      "the cache has to be in a folder from which programs may run (a file system that is mounted"
          + " \"noexec\" is not one): name another by -Dplumbline.cache=FOLDER";

  /**
   * Makes the exception.
   *
   * @param message what failed and what to do
   * @param cause what lies behind it, or null
   */
  public ToolchainException(String message, Throwable cause) {
    super(message, cause);
  }

  /**
   * Makes the exception without a cause.
   *
   * @param message what failed and what to do
   */
  public ToolchainException(String message) {
    this(message, null);
  }

  /**
   * Says that a file of the cache cannot be loaded or started, which is nearly always the doing of
   * a file system that lets nothing run.
   *
   * @param file the file
   * @param cause what the system said
   * @return the exception
   */
  public static ToolchainException cannotRun(Path file, Throwable cause) {
    return new ToolchainException(
        file + " was made but cannot be run: " + cause.getMessage() + "; " + EXECUTION, cause);
  }

  /** Says that nothing that is made in a folder of the cache will run. */
  static ToolchainException noExecution(Path folder) {
    return new ToolchainException(
        "The cache folder "
            + folder
            + " is on a file system that lets no program run; "
            + EXECUTION);
  }
}
