package dev.plumbline.report;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
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

  private IndexPage() {}

  static String of(Path folder, List<SummaryRow> rows) {
    long off = rows.stream().filter(row -> !row.isPass()).count();
    StringBuilder page = new StringBuilder();
    page.append("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n");
    page.append("<meta name=\"viewport\" content=\"width=device-width\">\n<title>");
    page.append(escape("Run " + folder.getFileName()));
    page.append("</title>\n<style>\n").append(STYLE).append("</style>\n</head>\n<body>\n");
    page.append("<h1>Run ").append(escape(folder.getFileName().toString())).append("</h1>\n<p>");
    page.append(
        String.format(
            Locale.ROOT,
            "%d %s. %s <a href=\"summary.csv\">summary.csv</a>",
            rows.size(),
            rows.size() == 1 ? "bench" : "benches",
            off == 0 ? "All hold to their reference." : off + " not passed."));
    page.append("</p>\n<ol>\n");
    rows.stream()
        .sorted(Comparator.comparing(SummaryRow::isPass)) // what failed comes first
        .forEach(row -> item(page, folder, row));
    return page.append("</ol>\n</body>\n</html>\n").toString();
  }

  private static void item(StringBuilder page, Path folder, SummaryRow row) {
    page.append(row.isPass() ? "<li>" : "<li class=\"off\">");
    page.append(escape(row.bench())).append(" <span class=\"verdict\">");
    page.append(escape(row.verdict())).append("</span><br>\n<span class=\"facts\">");
    page.append(
        escape(
            String.format(
                Locale.ROOT,
                "%s cases, %s cycles, %s cycles a second, seed %s",
                row.cases(),
                row.cycles(),
                row.cyclesASecond(),
                row.seed())));
    if (!row.boundWidths().isEmpty()) {
      page.append("<br>allowed ranges, median..widest in LSBs: ");
      page.append(escape(row.boundWidths()));
    }
    page.append("</span>\n");
    if (!row.evidenceFolder().isEmpty()) {
      page.append("<pre>")
          .append(escape(facts(folder.resolve(row.evidenceFolder()))))
          .append("</pre>\n");
      page.append("<a href=\"").append(escape(row.evidenceFolder()));
      page.append("/mismatch.csv\">mismatch.csv</a>\n");
    } else if (!row.firstMismatch().isEmpty()) {
      page.append("<pre>").append(escape(row.firstMismatch())).append("</pre>\n");
    }
    page.append("</li>\n");
  }

  private static String facts(Path evidenceFolder) {
    try {
      return Files.readString(evidenceFolder.resolve("facts.txt"), StandardCharsets.UTF_8).strip();
    } catch (IOException e) {
      return "The facts could not be read: " + e.getMessage();
    }
  }

  static String escape(String text) {
    return text.replace("&", "&amp;")
        .replace("<", "&lt;")
        .replace(">", "&gt;")
        .replace("\"", "&quot;");
  }
}
