package dev.plumbline.junit;

import dev.plumbline.cosim.Clocking;
import dev.plumbline.cosim.DutOptions;
import java.time.Duration;
import java.util.Locale;

/** The options that an annotation names. */
final class AnnotatedOptions {
  private AnnotatedOptions() {}

  static DutOptions of(DesignUnderTest annotation) {
    DutOptions options = DutOptions.defaults().withPlusargs(annotation.plusargs());
    if (annotation.timeoutSeconds() > 0) {
      long milliseconds = (long) Math.ceil(annotation.timeoutSeconds() * 1000);
      options = options.withTimeout(Duration.ofMillis(milliseconds));
    }
    if (annotation.isolated()) {
      options = options.withIsolated(true);
    }
    for (DesignUnderTest.Allowed allowed : annotation.allowed()) {
      options =
          switch (allowed) {
            case ERRORS -> options.withContinueOnError();
            case SYSTEM_CALLS -> options.withSystemCallsAllowed();
            case MISSING_MEMORY_FILES -> options.withMissingMemoryFilesAllowed();
          };
    }
    return annotation.clocks().length == 0 ? options : options.withClocking(clocking(annotation));
  }

  private static Clocking clocking(DesignUnderTest annotation) {
    Clocking clocking = Clocking.none();
    for (String clock : annotation.clocks()) {
      String[] words = clock.strip().split("\\s+", -1);
      int period = words.length > 1 ? number(clock, words[1]) : 1;
      int phase = words.length > 2 ? number(clock, words[2]) : 0;
      if (words.length > 3 || (phase != 0 && clocking.signals().isEmpty())) {
        throw refused(clock);
      }
      clocking =
          clocking.signals().isEmpty()
              ? Clocking.of(words[0], period)
              : clocking.with(words[0], period, phase);
    }
    return clocking;
  }

  private static int number(String clock, String word) {
    try {
      return Integer.parseInt(word);
    } catch (NumberFormatException e) {
      throw refused(clock);
    }
  }

  private static IllegalArgumentException refused(String clock) {
    return new IllegalArgumentException(
        String.format(
            Locale.ROOT,
            "Clock \"%s\" of @DesignUnderTest cannot be read; allowed is the port, then the period"
                + " and, but for the first, the phase, as in \"pixel_clk 17 3\".",
            clock));
  }
}
