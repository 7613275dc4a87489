package dev.plumbline.rtl;

import dev.plumbline.rtl.RtlException.Message;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Takes what Verilator prints on standard error apart into messages.
 *
 * <pre>{@code
 * throw new RtlException("Verilator cannot elaborate module planet; mend what it names", VerilatorMessages.errors(standardError));
 * }</pre>
 *
 * <p>A message is one line of text: what Verilator says, then what it adds on further lines, joined
 * by semicolons; quoted source and general advice are left out. The text of a warning begins with
 * {@code warning} and its code.
 */
public final class VerilatorMessages {
  private static final Pattern HEAD =
      Pattern.compile(
          "%(Error|Warning|Fatal)(?:-(\\w+))?: (?:(.+?):(\\d{1,9}):(?:(\\d{1,9}):)? )?(.*)");
  private static final Pattern QUOTED_SOURCE = Pattern.compile("\\s*\\d+ \\| (.*)");
  private static final Pattern MARKER = Pattern.compile("\\s+\\| (\\s*)(\\^~*)\\s*");
  private static final Pattern ADDED =
      Pattern.compile("\\s+(?:: )?(?:(.+?:\\d+):\\d+: )?\\.\\.\\. (?:note: )?(.*)");
  private static final Pattern ADVICE =
      Pattern.compile(
          "(For \\w+ description see |Use \"/\\* verilator|See the manual at |This fatal error"
              + " may).*");

  /** What every version says of an interface among the ports of the top, without its name. */
  private static final String INTERFACE_PORT = "Unsupported: Interfaced port on top level module";

  private static final Pattern INTERFACE_ECHO =
      Pattern.compile(
          "Parent instance's interface is not found: .*|Interface '.*' not connected as parent's"
              + " .*");

  private final List<Message> messages = new ArrayList<>();
  private final List<Boolean> errors = new ArrayList<>();
  private String source = "";
  private SourceLocation location = new SourceLocation("", 0);
  private StringBuilder text;
  private boolean error;

  private VerilatorMessages() {}

  /**
   * Every message, in order.
   *
   * @param standardError what Verilator printed
   * @return errors and warnings; empty when there are none
   */
  public static List<Message> all(String standardError) {
    return read(standardError).messages;
  }

  /**
   * The errors alone, without the count of errors at the end.
   *
   * @param standardError what Verilator printed
   * @return the errors in order; when none can be distinguished, everything printed as one message
   *     without a place, so that nothing is lost; empty only when nothing was printed
   */
  public static List<Message> errors(String standardError) {
    VerilatorMessages read = read(standardError);
    List<Message> found = new ArrayList<>();
    boolean interfacePort = read.messages.stream().anyMatch(it -> isInterfacePort(it));
    for (int i = 0; i < read.messages.size(); i++) {
      Message message = read.messages.get(i);
      boolean echo = interfacePort && INTERFACE_ECHO.matcher(message.text()).matches();
      boolean count = message.text().matches("(?s)(Exiting due to \\d+ |Cannot continue).*");
      if (read.errors.get(i) && !echo && !count) {
        found.add(message);
      }
    }
    if (found.isEmpty() && !standardError.isBlank()) {
      found.add(new Message(new SourceLocation("", 0), standardError.strip()));
    }
    return found;
  }

  private static boolean isInterfacePort(Message message) {
    return message.text().contains(Types.INTERFACE_TROUBLE);
  }

  private static VerilatorMessages read(String standardError) {
    VerilatorMessages reader = new VerilatorMessages();
    standardError.lines().forEach(reader::line);
    reader.finish();
    return reader;
  }

  private void line(String line) {
    Matcher head = HEAD.matcher(line);
    Matcher quoted = QUOTED_SOURCE.matcher(line);
    Matcher marker = MARKER.matcher(line);
    Matcher added = ADDED.matcher(line);
    if (head.matches()) {
      finish();
      begin(head);
    } else if (text == null) {
      return;
    } else if (quoted.matches()) {
      source = quoted.group(1);
    } else if (marker.matches()) {
      nameInterfacePort(marker);
    } else if (added.matches()) {
      if (!ADVICE.matcher(added.group(2)).matches()) {
        String place = added.group(1) == null ? "" : added.group(1) + ": ";
        text.append("; ").append(place).append(added.group(2));
      }
    } else if (line.startsWith(" ") && !line.isBlank()) {
      boolean first = text.isEmpty() || text.charAt(text.length() - 1) == ':';
      text.append(first ? " " : ", ").append(line.strip());
    } else {
      finish();
    }
  }

  private void begin(Matcher head) {
    error = !head.group(1).equals("Warning");
    location =
        head.group(3) == null
            ? new SourceLocation("", 0)
            : new SourceLocation(head.group(3), number(head.group(4)), number(head.group(5)));
    text = new StringBuilder();
    if (!error) {
      text.append(head.group(2) == null ? "warning: " : "warning " + head.group(2) + ": ");
    }
    text.append(head.group(6));
  }

  private static int number(String digits) {
    return digits == null ? 0 : Integer.parseInt(digits);
  }

  /** Verilator marks the port in the source line it quotes but does not name it. */
  private void nameInterfacePort(Matcher marker) {
    int from = marker.group(1).length();
    int to = Math.min(from + marker.group(2).length(), source.length());
    if (text.toString().equals(INTERFACE_PORT) && from < to) {
      text.setLength(0);
      text.append("port \"").append(source, from, to).append("\" ").append(Types.INTERFACE_TROUBLE);
    }
  }

  private void finish() {
    if (text != null) {
      text.append(ReservedWords.hint(location.file(), text.toString()));
      messages.add(new Message(location, text.toString()));
      errors.add(error);
    }
    text = null;
    source = "";
  }
}
