package dev.plumbline.models.datapath;

import dev.plumbline.models.ModelException;

/**
 * A datapath that cannot be described or evaluated as asked; names the datapath and the step, what
 * was allowed and what to do.
 */
public class DatapathException extends ModelException {
  private static final long serialVersionUID = 1;

  /**
   * Makes the exception.
   *
   * @param message what failed, the value, where, what was allowed, what to do
   */
  public DatapathException(String message) {
    super(message, null);
  }
}
