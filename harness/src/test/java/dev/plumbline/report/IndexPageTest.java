package dev.plumbline.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.check.VerdictSamples;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class IndexPageTest {
  private static final String NASTY = "</pre><script>alert(\"ring\")</script> & 'brass'";

  @TempDir private Path folder;

  @Test
  void everyBenchStandsThereWithItsVerdictAndWhatFailedComesFirst() throws IOException {
    String page =
        IndexPage.of(
            "evening",
            List.of(pass("earth"), mismatch("moon"), nothing("venus")),
            Comparison.NONE,
            List.of(),
            folder -> List.of());

    assertTrue(page.contains("3 benches. 2 not passed."), page);
    assertTrue(page.contains("earth <span class=\"verdict\">pass</span>"), page);
    assertTrue(page.contains("moon <span class=\"verdict\">mismatch</span>"), page);
    assertTrue(page.contains("venus <span class=\"verdict\">nothing checked</span>"), page);
    assertTrue(page.contains("no result was ever due"), "why nothing was checked");
    assertTrue(page.indexOf(">mismatch<") < page.indexOf(">pass<"));
    assertTrue(page.indexOf(">nothing checked<") < page.indexOf(">pass<"));
    assertEquals(2, page.split("<li class=\"off\">", -1).length - 1);
  }

  @Test
  void aMismatchShowsItsFactsAndLeadsToItsTable() throws IOException {
    String page =
        IndexPage.of(
            "evening",
            List.of(mismatch("moon")),
            Comparison.NONE,
            List.of(),
            folder -> List.of("mismatch.csv", "waveform.vcd"));

    assertTrue(page.contains("moon: value wrong"), page);
    assertTrue(page.contains("<a href=\"moon/mismatch.csv\">"), page);
    assertTrue(page.contains("<a href=\"moon/waveform.vcd\">"), page);
  }

  @Test
  void promisedCyclesStandBesideThoseThatWereTaken() throws IOException {
    String page =
        IndexPage.of(
            "evening", List.of(pass("earth")), Comparison.NONE, List.of(), folder -> List.of());

    assertTrue(
        page.contains(
            ">cycles of a result, from its case: promised 3, measured 3 for each of 500<"),
        page);
    assertFalse(
        IndexPage.of(
                "evening",
                List.of(mismatch("moon")),
                Comparison.NONE,
                List.of(),
                folder -> List.of())
            .contains("measured"));
  }

  @Test
  void textIsNeverTakenForMarkup() {
    String page =
        IndexPage.of(
            "evening",
            List.of(nothing(NASTY), pass(NASTY)),
            Comparison.NONE,
            List.of(),
            folder -> List.of());

    assertFalse(page.toLowerCase(Locale.ROOT).contains("<script"), page);
    String escaped =
        "&lt;/pre&gt;&lt;script&gt;alert(&quot;ring&quot;)&lt;/script&gt; &amp; &#39;brass&#39;";
    assertTrue(
        page.contains("<pre tabindex=\"0\">" + escaped + ": the check could not judge"), page);
    assertTrue(page.contains(escaped + " <span class=\"verdict\">pass"), page);
    requireBalanced(page);
  }

  @Test
  void thePageNeedsNoNetwork() throws IOException {
    String page =
        IndexPage.of(
            "evening",
            List.of(pass("earth"), mismatch("moon")),
            Comparison.NONE,
            List.of(),
            folder -> List.of());

    for (String outside : List.of("http:", "https:", "//", "<script", "<link", "src=", "url(")) {
      assertFalse(page.contains(outside), outside);
    }
    assertFalse(page.contains("@import"));
    Matcher link = Pattern.compile("href=\"([^\"]*)\"").matcher(page);
    Files.writeString(folder.resolve("summary.csv"), "");
    while (link.find()) {
      assertTrue(Files.exists(folder.resolve(link.group(1))), link.group(1));
    }
  }

  @Test
  void allPassesAreCalledThat() {
    String page =
        IndexPage.of(
            "evening", List.of(pass("earth")), Comparison.NONE, List.of(), folder -> List.of());
    assertTrue(page.contains("s16.16 is a signed number of 16 whole bits, the sign counted"), page);

    assertTrue(page.contains("1 bench. All hold to their reference."), page);
    requireBalanced(page);
  }

  private static LedgerEntry pass(String name) {
    return LedgerEntry.of(VerdictSamples.pass(name), Optional.empty());
  }

  private static LedgerEntry nothing(String name) {
    return LedgerEntry.of(VerdictSamples.nothingChecked(name), Optional.empty());
  }

  private LedgerEntry mismatch(String name) throws IOException {
    Path evidenceFolder = Files.createDirectories(folder.resolve(name));
    Files.writeString(evidenceFolder.resolve("mismatch.csv"), "");
    Files.writeString(evidenceFolder.resolve("facts.txt"), "");
    return LedgerEntry.of(VerdictSamples.wrongValue(name, 5, ""), Optional.of(name));
  }

  /** Every element that is opened is closed, in order. */
  private static void requireBalanced(String page) {
    Deque<String> open = new ArrayDeque<>();
    Matcher tag = Pattern.compile("<(/?)([a-z0-9]+)[^>]*>").matcher(page);
    while (tag.find()) {
      if (Set.of("meta", "br").contains(tag.group(2))) {
        continue;
      }
      if (tag.group(1).isEmpty()) {
        open.push(tag.group(2));
      } else {
        assertEquals(open.poll(), tag.group(2), () -> "in " + page);
      }
    }
    assertEquals(0, open.size());
  }
}
