package dev.plumbline.evidence;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.zip.ZipFile;
import javax.xml.parsers.DocumentBuilderFactory;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;

/**
 * The cells of the first sheet of a workbook (ECMA-376, SpreadsheetML), which keeps numbers to the
 * last digit; the OpenDocument files that LibreOffice writes end after 20 decimals.
 */
final class Workbook {
  /** A cell: whether it is a number, and its full value. */
  record Cell(boolean number, String value) {}

  /** What a cell without content is. */
  static final Cell EMPTY = new Cell(false, "");

  private final Map<String, Cell> cells = new HashMap<>();

  Workbook(Path file) throws Exception {
    try (ZipFile zip = new ZipFile(file.toFile())) {
      List<String> texts = new ArrayList<>();
      NodeList shared = parse(zip, "xl/sharedStrings.xml").getElementsByTagName("si");
      for (int i = 0; i < shared.getLength(); i++) {
        texts.add(shared.item(i).getTextContent());
      }
      NodeList all = parse(zip, "xl/worksheets/sheet1.xml").getElementsByTagName("c");
      for (int i = 0; i < all.getLength(); i++) {
        Element cell = (Element) all.item(i);
        NodeList value = cell.getElementsByTagName("v");
        if (value.getLength() > 0) {
          String content = value.item(0).getTextContent();
          boolean text = cell.getAttribute("t").equals("s");
          cells.put(
              cell.getAttribute("r"),
              text
                  ? new Cell(false, texts.get(Integer.parseInt(content)))
                  : new Cell(true, content));
        }
      }
    }
  }

  private static Document parse(ZipFile zip, String part) throws Exception {
    return DocumentBuilderFactory.newInstance()
        .newDocumentBuilder()
        .parse(zip.getInputStream(zip.getEntry(part)));
  }

  /** The cell at a row and a column, both counted from 0. */
  Cell at(int row, int column) {
    String letters = "";
    for (int rest = column + 1; rest > 0; rest = (rest - 1) / 26) {
      letters = (char) ('A' + (rest - 1) % 26) + letters;
    }
    return cells.getOrDefault(letters + (row + 1), EMPTY);
  }
}
