package dev.plumbline.rtl;

import dev.plumbline.PlumblineException;
import java.util.List;

/**
 * RTL that cannot be read, elaborated or driven; carries what was reported of it, message by
 * message.
 */
public class RtlException extends PlumblineException {
  private static final long serialVersionUID = 1;

  private final transient List<Message> messages;

  /**
   * One message about the source.
   *
   * @param location where; file may be empty when the tool named none
   * @param text what is wrong
   */
  public record Message(SourceLocation location, String text) {
    @Override
    public String toString() {
      return location.file().isEmpty() ? text : location + ": " + text;
    }
  }

  /**
   * Makes the exception.
   *
   * @param summary what failed and what to do
   * @param messages what was reported, in order
   * @param cause what lies behind it, or null
   */
  public RtlException(String summary, List<Message> messages, Throwable cause) {
    super(text(summary, messages), cause);
    this.messages = List.copyOf(messages);
  }

  /**
   * Makes the exception without a cause.
   *
   * @param summary what failed and what to do
   * @param messages what was reported, in order
   */
  public RtlException(String summary, List<Message> messages) {
    this(summary, messages, null);
  }

  /**
   * What was reported of the source.
   *
   * @return the messages in order
   */
  public List<Message> messages() {
    return messages;
  }

  private static String text(String summary, List<Message> messages) {
    StringBuilder text = new StringBuilder(summary);
    for (Message message : messages) {
      text.append(System.lineSeparator()).append("  ").append(message);
    }
    return text.toString();
  }
}
