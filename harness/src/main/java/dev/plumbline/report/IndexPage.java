package dev.plumbline.report;

import com.samskivert.mustache.Mustache;
import com.samskivert.mustache.Template;
import dev.plumbline.stimulus.SeedText;
import dev.plumbline.text.PlainText;
import java.io.IOException;
import java.io.InputStream;
import java.io.Reader;
import java.io.StringReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.function.Function;
import java.util.stream.Stream;

/**
 * {@code index.html}: the run at a glance. One file, no script, nothing from a network. Benches
 * hang on a line down the page; one that differs from its reference stands off it. Templates beside
 * this class have its markup; every text in it is escaped by the library that fills them.
 */
final class IndexPage {
  private static final String FORMATS =
      "s16.16 is a signed number of 16 whole bits, the sign counted, and 16 fraction bits; u1.15 an"
          + " unsigned one of 1 and 15. An LSB is the last bit of the format named.";

  /** How long the longest bar is, as the template draws it. */
  private static final int LONGEST = 1_000;

  /** Pictures below half of that are shown larger. */
  private static final int SMALL = 320;

  private static final Template PAGE =
      Mustache.compiler()
          .emptyStringIsFalse(true)
          .withLoader(IndexPage::partial)
          .compile(resource("page.html"));

  private static final String STYLE = resource("page.css");

  /** What the template fills in; its names are those of the template. */
  record Page(
      String run,
      String count,
      boolean benched,
      boolean covered,
      boolean compared,
      String since,
      List<Comparison.Change> changes,
      List<Item> benches,
      String formats,
      String style) {}

  /** A bench. */
  record Item(
      String bench,
      String verdict,
      boolean off,
      String facts,
      String widths,
      String seen,
      List<String> budgets,
      String report,
      List<LaneDrawing> lanes,
      List<Table> tables,
      List<Chart> charts,
      List<Figure> figures,
      String folder,
      List<Link> files) {}

  record Table(String title, List<String> headings, List<Cells> rows) {}

  record Cells(boolean off, List<String> cells) {}

  record Chart(String title, boolean open, List<Bar> bars) {}

  record Bar(String label, long count, int length) {}

  /** A picture at twice its size or more where it is small, and no wider than the page. */
  record Figure(String path, String caption, int width) {}

  record Link(String path, String name) {}

  private IndexPage() {}

  private static Reader partial(String name) {
    return new StringReader(resource(name));
  }

  private static String resource(String name) {
    try (InputStream in = IndexPage.class.getResourceAsStream(name)) {
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(
          "The jar of Plumbline lacks its template: \"" + name + "\". Install it again.", e);
    }
  }

  /**
   * The page.
   *
   * @param byHand tests that drove a DUT by hand and failed
   * @param files names of what there is to open in a bench's folder
   */
  static String of(
      String run,
      List<LedgerEntry> entries,
      Comparison comparison,
      List<Item> byHand,
      Function<String, List<String>> files) {
    Stream<Item> benches =
        entries.stream()
            .sorted(Comparator.comparing(LedgerEntry::isPass)) // what failed comes first
            .map(entry -> item(entry, files));
    return PAGE.execute(
        new Page(
            PlainText.line(run),
            count(entries, byHand.size()),
            !entries.isEmpty(),
            entries.stream().anyMatch(entry -> !entry.coverage().isEmpty()),
            comparison.isThere(),
            PlainText.line(comparison.since()),
            comparison.changes(),
            Stream.concat(byHand.stream(), benches).toList(),
            FORMATS,
            STYLE));
  }

  private static String count(List<LedgerEntry> entries, int byHand) {
    long off = entries.stream().filter(entry -> !entry.isPass()).count();
    List<String> words = new ArrayList<>();
    if (!entries.isEmpty()) {
      words.add(entries.size() + (entries.size() == 1 ? " bench." : " benches."));
      words.add(off == 0 ? "All hold to their reference." : off + " not passed.");
    }
    if (byHand > 0) {
      words.add(byHand + (byHand == 1 ? " test" : " tests") + " that drove a DUT by hand failed.");
    }
    return String.join(" ", words);
  }

  private static Item item(LedgerEntry entry, Function<String, List<String>> files) {
    return new Item(
        PlainText.line(entry.bench()),
        entry.outcome().toString(),
        !entry.isPass(),
        String.format(
            Locale.ROOT,
            "%d cases, %d cycles, %s cycles a second, seed %s",
            entry.cases(),
            entry.cycles(),
            SummaryTable.rate(entry),
            SeedText.of(entry.seed())),
        PlainText.line(SummaryTable.widths(entry)),
        PlainText.line(SummaryTable.seen(entry)),
        entry.budgets().stream().map(budget -> PlainText.line(budget.toString())).toList(),
        PlainText.lines(entry.facts()),
        entry.lanes() == null ? List.of() : List.of(LaneDrawing.of(entry.lanes())),
        entry.tables().stream().map(IndexPage::table).toList(),
        charts(entry),
        entry.pictures().stream().map(picture -> figure(entry, picture)).toList(),
        entry.folder(),
        entry.folder().isEmpty() ? List.of() : files(entry, files.apply(entry.folder())));
  }

  private static List<Link> files(LedgerEntry entry, List<String> names) {
    return names.stream().map(name -> new Link(entry.folder() + "/" + name, name)).toList();
  }

  private static Figure figure(LedgerEntry entry, LedgerEntry.Figure picture) {
    int factor = Math.max(1, SMALL / Math.max(picture.width(), picture.height()));
    return new Figure(
        PlainText.line(entry.folder() + "/" + picture.file()),
        PlainText.line(picture.caption()),
        factor * picture.width());
  }

  private static Table table(FactTable table) {
    List<Cells> rows = new ArrayList<>();
    for (List<String> row : table.rows()) {
      rows.add(
          new Cells(rows.size() == table.marked(), row.stream().map(PlainText::line).toList()));
    }
    return new Table(
        PlainText.line(table.title()),
        table.headings().stream().map(PlainText::line).toList(),
        rows);
  }

  private static List<Chart> charts(LedgerEntry entry) {
    List<Bars> all = new ArrayList<>(entry.charts());
    if (!entry.coverage().isEmpty()) {
      all.add(
          new Bars(
              entry.coverage().size() + " coverage points, cases that met each",
              entry.coverage().stream()
                  .map(point -> new Bars.Bar(point.name(), point.met()))
                  .toList()));
    }
    return all.stream().map(bars -> chart(bars, !entry.isPass())).toList();
  }

  /** Lengths by logarithm, since a rare point matters as much as a common one. */
  private static Chart chart(Bars bars, boolean open) {
    long most = bars.bars().stream().mapToLong(Bars.Bar::count).max().orElse(0);
    double scale = LONGEST / Math.log1p(Math.max(1.0, (double) most));
    return new Chart(
        PlainText.line(bars.title()) + " (bars by logarithm)",
        open,
        bars.bars().stream()
            .map(
                bar ->
                    new Bar(
                        PlainText.line(bar.label()),
                        bar.count(),
                        (int) Math.round(scale * Math.log1p((double) bar.count()))))
            .toList());
  }
}
