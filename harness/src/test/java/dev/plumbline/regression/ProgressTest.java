package dev.plumbline.regression;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;

class ProgressTest {
  private final ByteArrayOutputStream printed = new ByteArrayOutputStream();
  private final PrintStream out = new PrintStream(printed, true, StandardCharsets.UTF_8);

  private String text() {
    return printed.toString(StandardCharsets.UTF_8);
  }

  private void await(String part) throws InterruptedException {
    for (int i = 0; i < 500 && !text().contains(part); i++) {
      Thread.sleep(20);
    }
    assertTrue(text().contains(part), this::text);
  }

  @Test
  void aTerminalShowsWhatIsDoneTheRateAndTheTimeLeft() throws InterruptedException {
    try (Progress progress = new Progress(out, 4, true)) {
      progress.begins("moon");
      progress.ends();
      progress.begins("earth");
      progress.checked(40, 100);
      progress.checked(50, 100);
      await("1/4 (0:00:0"); // of time spent; time left stands behind a stroke
      await("earth, ");
      await(" M cases/s");
      progress.say("pass moon");
      assertTrue(text().matches("(?s).*\\r +\\rpass moon\\R.*"), this::text);
    }
    for (String line : text().split("[\\r\\n]+", -1)) {
      assertTrue(line.length() <= 100, line);
    }
  }

  @Test
  void elsewhereThereAreWholeLinesAlone() {
    try (Progress progress = new Progress(out, 2, false)) {
      progress.begins("moon");
      progress.checked(50, 100);
      progress.ends();
      progress.say("pass moon");
    }
    assertEquals("pass moon" + System.lineSeparator(), text());
  }
}
