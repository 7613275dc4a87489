package dev.plumbline.verdict;

import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A waveform that is wanted whether or not anything is wrong, as property {@code
 * plumbline.waveform} says: {@code 0-200}, or {@code 0-200 sphere.axis_x sphere.dot}.
 *
 * @param first the first cycle, of the first segment of a bench or of a DUT that is driven by hand
 * @param last the last one
 * @param scopes which instances and generate scopes, with all below them; all when there are none
 */
public record WaveformRequest(long first, long last, List<String> scopes) {
  /** The property that asks for one. */
  public static final String PROPERTY = "plumbline.waveform";

  private static final int MOST = 100_000;
  private static final Pattern TEXT = Pattern.compile("(\\d{1,15})-(\\d{1,15})((?: \\S+)*)");

  public WaveformRequest {
    scopes = List.copyOf(scopes);
    if (first < 0 || last < first || last - first >= MOST) {
      throw new IllegalArgumentException(
          "A waveform of cycles "
              + first
              + " to "
              + last
              + " cannot be kept; allowed are up to "
              + MOST
              + " cycles from 0 on, the first before the last.");
    }
  }

  /**
   * Reads a request.
   *
   * @param text as the property has it
   * @return empty for an empty text
   * @throws IllegalArgumentException when it is none
   */
  public static Optional<WaveformRequest> parse(String text) {
    if (text.isBlank()) {
      return Optional.empty();
    }
    Matcher parts = TEXT.matcher(text.strip());
    if (!parts.matches()) {
      throw new IllegalArgumentException(
          "A waveform was asked for by \""
              + text
              + "\"; allowed is FIRST-LAST in cycles, and scopes behind it, as in \"0-200"
              + " gear.wheel\".");
    }
    List<String> scopes = List.of(parts.group(3).strip().split(" ", -1));
    return Optional.of(
        new WaveformRequest(
            Long.parseLong(parts.group(1)),
            Long.parseLong(parts.group(2)),
            parts.group(3).isBlank() ? List.of() : scopes));
  }

  /**
   * The request of this process.
   *
   * @return empty unless the property asks for one
   */
  public static Optional<WaveformRequest> ofProperty() {
    return parse(System.getProperty("plumbline.waveform", ""));
  }

  /**
   * Whether a signal is wanted.
   *
   * @param path its hierarchical name
   * @return true when it is in one of the scopes
   */
  public boolean takes(String path) {
    return scopes.isEmpty() || scopes.stream().anyMatch(scope -> path.startsWith(scope + "."));
  }
}
