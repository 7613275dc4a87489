package dev.plumbline.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import com.google.gson.Gson;
import dev.plumbline.check.VerdictSamples;
import java.io.File;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The page as a browser lays it out, with scripts off, on the width of a phone. */
class PageInBrowserTest {
  private static final int PHONE = 360; // CSS pixels

  @TempDir private Path folder;

  /** What the page around it measures of our page. */
  private record Seen(
      int width, int scrolled, String text, int benches, double lanes, String marked, int stops) {}

  private static Optional<Path> browser() {
    return Stream.of(System.getenv("PATH").split(File.pathSeparator))
        .flatMap(path -> Stream.of("chromium", "chromium-browser").map(Path.of(path)::resolve))
        .filter(Files::isExecutable)
        .findFirst();
  }

  private Seen look(String page) throws IOException, InterruptedException {
    Optional<Path> browser = browser();
    assumeTrue(browser.isPresent(), "no Chromium on PATH");
    Path around = folder.resolve("around.html");
    Files.writeString(
        around,
        """
        <!DOCTYPE html><meta charset="utf-8"><body>
        <iframe sandbox="allow-same-origin" width="%d" height="900" srcdoc="%s"></iframe>
        <script>
        onload = () => {
          const page = document.querySelector('iframe').contentDocument;
          const lanes = page.querySelector('svg.lanes');
          const bad = page.querySelector('svg.lanes .bad');
          document.body.textContent = 'SEEN' + JSON.stringify({
            width: page.documentElement.clientWidth,
            scrolled: page.documentElement.scrollWidth,
            text: page.body.innerText,
            benches: page.querySelectorAll('main > ol > li').length,
            lanes: lanes ? lanes.getBoundingClientRect().width : 0,
            marked: bad ? page.defaultView.getComputedStyle(bad).fill : '',
            stops: page.querySelectorAll('a[href], [tabindex="0"], summary').length
          }) + 'SEEN';
        };
        </script>
        """
            .formatted(PHONE, page.replace("&", "&amp;").replace("\"", "&quot;")));
    Path out = folder.resolve("seen.txt");
    Process process =
        new ProcessBuilder(
                browser.get().toString(),
                "--headless",
                "--no-sandbox",
                "--disable-gpu",
                "--user-data-dir=" + folder.resolve("profile"),
                "--dump-dom",
                around.toUri().toString())
            .redirectOutput(out.toFile())
            .redirectError(ProcessBuilder.Redirect.DISCARD)
            .start();
    assertTrue(process.waitFor(120, TimeUnit.SECONDS), "the browser did not end");
    String dom = Files.readString(out);
    Matcher seen = Pattern.compile("SEEN(\\{.*\\})SEEN", Pattern.DOTALL).matcher(dom);
    assertTrue(seen.find(), dom);
    String json = seen.group(1).replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&");
    return new Gson().fromJson(json, Seen.class);
  }

  @Test
  void aPhoneShowsAllOfItWithoutScriptsOrScrollingSideways() throws Exception {
    LedgerEntry moon =
        LedgerEntry.of(
            VerdictSamples.wrongValue("moon <b>" + "of_a_long_name".repeat(8), 5, ""),
            Optional.of("moon"));
    LedgerEntry earth = LedgerEntry.of(VerdictSamples.pass("earth"), Optional.empty());
    List<String> files = List.of("facts.txt", "mismatch.csv");
    Seen seen =
        look(
            IndexPage.of(
                "evening", List.of(earth, moon), Comparison.NONE, List.of(), folder -> files));

    assertTrue(seen.width() <= PHONE && seen.width() > PHONE - 30, seen::toString);
    assertEquals(seen.width(), seen.scrolled(), "it scrolls sideways");
    assertEquals(2, seen.benches());
    for (String text : List.of("Run evening", "moon <b>", "value wrong", "earth", "out_angle")) {
      assertTrue(seen.text().contains(text), () -> text + " in " + seen.text());
    }
    assertTrue(seen.lanes() > PHONE, "the lanes are drawn, and scroll in their own frame");
    assertTrue(seen.marked().toLowerCase(Locale.ROOT).startsWith("rgb"), seen::toString);
    assertTrue(seen.stops() >= 4, "links and frames are reached by keyboard");
  }
}
