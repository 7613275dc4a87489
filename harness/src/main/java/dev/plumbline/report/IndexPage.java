package dev.plumbline.report;

import dev.plumbline.stimulus.SeedText;
import dev.plumbline.text.PlainText;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;

/**
 * {@code index.html}: the run at a glance. One file, no script, nothing from a network. Benches
 * hang on a line down the page; one that differs from its reference stands off it.
 */
final class IndexPage {
  private static final String STYLE =
      """
      :root { --paper: #f7f4ee; --ink: #22252a; --faint: #8b8778; --off: #a3431f; --line: #c9c2b2 }
      @media (prefers-color-scheme: dark) {
        :root { --paper: #1d1f22; --ink: #e6e1d6; --faint: #958f80; --off: #e58a5e; --line: #4a473f }
      }
      body { margin: 2.5rem auto; max-width: 60rem; padding: 0 1.5rem; background: var(--paper);
        color: var(--ink); font: 16px/1.5 Georgia, "Times New Roman", serif }
      h1 { font-size: 1.3rem; font-weight: normal; margin: 0 }
      p { color: var(--faint); margin: .2rem 0 2rem }
      ol { list-style: none; margin: 0; padding: 0; border-left: 1px solid var(--line) }
      li { padding: .35rem 0 .35rem 1.2rem; position: relative }
      li::before { content: ""; position: absolute; left: -4px; top: .95rem; width: 7px; height: 7px;
        border-radius: 50%; background: var(--ink) }
      li.off { padding-left: 3.2rem }
      li.off::before { left: 1.6rem; background: var(--off) }
      li.off::after { content: ""; position: absolute; left: 0; top: 1.15rem; width: 1.6rem;
        border-top: 1px solid var(--off) }
      .verdict { font-style: italic }
      .off .verdict { color: var(--off) }
      .facts { color: var(--faint); font-size: .85rem }
      pre { font: 13px/1.45 ui-monospace, Menlo, Consolas, monospace; overflow-x: auto;
        margin: .5rem 0 .8rem; padding: .6rem .8rem; border: 1px solid var(--line) }
      a { color: inherit }
      """;

  private static final String FORMATS =
      "s16.16 is a signed number of 16 whole bits, the sign counted, and 16 fraction bits; u1.15 an"
          + " unsigned one of 1 and 15. An LSB is the last bit of the format named.";

  private IndexPage() {}

  static String of(String run, List<LedgerEntry> entries) {
    long off = entries.stream().filter(entry -> !entry.isPass()).count();
    StringBuilder page = new StringBuilder();
    page.append("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n");
    page.append("<meta name=\"viewport\" content=\"width=device-width\">\n<title>");
    page.append(escape("Run " + run));
    page.append("</title>\n<style>\n").append(STYLE).append("</style>\n</head>\n<body>\n");
    page.append("<h1>Run ").append(escape(run)).append("</h1>\n<p>");
    page.append(
        String.format(
            Locale.ROOT,
            "%d %s. %s <a href=\"summary.csv\">summary.csv</a>",
            entries.size(),
            entries.size() == 1 ? "bench" : "benches",
            off == 0 ? "All hold to their reference." : off + " not passed."));
    page.append("</p>\n<ol>\n");
    entries.stream()
        .sorted(Comparator.comparing(LedgerEntry::isPass)) // what failed comes first
        .forEach(entry -> item(page, entry));
    page.append("</ol>\n<p>").append(FORMATS).append("</p>\n");
    return page.append("</body>\n</html>\n").toString();
  }

  private static void item(StringBuilder page, LedgerEntry entry) {
    page.append(entry.isPass() ? "<li>" : "<li class=\"off\">");
    page.append(escape(entry.bench())).append(" <span class=\"verdict\">");
    page.append(escape(entry.outcome().toString()));
    page.append("</span><br>\n<span class=\"facts\">");
    page.append(
        String.format(
            Locale.ROOT,
            "%d cases, %d cycles, %s cycles a second, seed %s",
            entry.cases(),
            entry.cycles(),
            SummaryTable.rate(entry),
            SeedText.of(entry.seed())));
    String widths = SummaryTable.widths(entry);
    if (!widths.isEmpty()) {
      page.append("<br>allowed ranges, median..widest in codes of each output: ")
          .append(escape(widths));
      page.append("<br>smallest error seen in half of the results: ");
      page.append(escape(SummaryTable.seen(entry)));
    }
    page.append("</span>\n");
    if (!entry.facts().isEmpty()) {
      page.append("<pre>").append(escape(entry.facts())).append("</pre>\n");
    }
    if (!entry.folder().isEmpty()) {
      page.append("<a href=\"").append(escape(entry.folder()));
      page.append("/mismatch.csv\">mismatch.csv</a>\n");
    }
    page.append("</li>\n");
  }

  static String escape(String text) {
    return PlainText.lines(text)
        .replace("&", "&amp;")
        .replace("<", "&lt;")
        .replace(">", "&gt;")
        .replace("\"", "&quot;");
  }
}
