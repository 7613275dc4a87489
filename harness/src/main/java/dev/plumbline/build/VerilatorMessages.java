package dev.plumbline.build;

import dev.plumbline.rtl.RtlException.Message;
import dev.plumbline.rtl.SourceLocation;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Takes the errors out of what Verilator printed. */
final class VerilatorMessages {
  // %Error: file.sv:5:87: text, %Error-CODE: file.sv:5:87: text, or without a place.
  private static final Pattern ERROR =
      Pattern.compile("%Error(?:-(\\w+))?: (?:(.+?):(\\d+):(?:\\d+:)? )?(.*)");

  private VerilatorMessages() {}

  /** The errors in order; everything printed when there is none, as after a crash. */
  static List<Message> errors(String output) {
    List<Message> messages = new ArrayList<>();
    for (String line : output.lines().toList()) {
      Matcher error = ERROR.matcher(line);
      if (error.matches()) {
        boolean placed = error.group(2) != null;
        SourceLocation location =
            new SourceLocation(
                placed ? error.group(2) : "", placed ? Integer.parseInt(error.group(3)) : 0);
        String code = error.group(1) == null ? "" : " (" + error.group(1) + ")";
        String text = error.group(4);
        if (!text.startsWith("Exiting due to")) {
          messages.add(new Message(location, text + code));
        }
      }
    }
    if (messages.isEmpty()) {
      messages.add(new Message(new SourceLocation("", 0), output.strip()));
    }
    return messages;
  }
}
