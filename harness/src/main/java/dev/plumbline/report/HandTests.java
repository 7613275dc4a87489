package dev.plumbline.report;

import dev.plumbline.report.IndexPage.Item;
import dev.plumbline.report.IndexPage.Link;
import dev.plumbline.text.PlainText;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;

/** Tests of a run that drove a DUT by hand and failed, as they stand in its page. */
final class HandTests {
  /** Such a test leaves one, and no bench does. */
  private static final String TRACE = "trace.csv";

  private static final String FAILED = " failed: ";

  private HandTests() {}

  /** By name; none where the folder cannot be read. */
  static List<Item> of(Path run) {
    List<Item> items = new ArrayList<>();
    try (Stream<Path> folders = Files.list(run)) {
      for (Path folder : folders.sorted().toList()) {
        if (Files.isRegularFile(folder.resolve(TRACE))) {
          items.add(item(folder));
        }
      }
    } catch (IOException e) {
      return List.of(); // taken away meanwhile
    }
    return items;
  }

  private static Item item(Path folder) throws IOException {
    String facts = Files.readString(folder.resolve("facts.txt"));
    int end = facts.indexOf(FAILED);
    String name = folder.getFileName().toString();
    try (Stream<Path> files = Files.list(folder)) {
      return new Item(
          PlainText.line(end < 0 ? name : facts.substring(0, end)),
          "failed",
          true,
          "a test that drove its DUT by hand",
          "",
          "",
          List.of(),
          PlainText.lines(facts.strip()),
          List.of(),
          List.of(),
          List.of(),
          List.of(),
          name,
          files
              .map(file -> file.getFileName().toString())
              .sorted()
              .map(file -> new Link(name + "/" + file, file))
              .toList());
    }
  }
}
