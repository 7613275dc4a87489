package dev.plumbline.evidence;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.datapath.FloatFormat;
import dev.plumbline.models.datapath.Operand;
import java.io.IOException;
import java.math.BigInteger;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Map;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Isolated;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

@Isolated("changes what all tests share")
class CsvTableTest {
  @TempDir private Path folder;

  @Test
  @DisplayName("H1: rows end in CR LF; commas, quotes and line breaks are quoted (RFC 4180)")
  void fieldsAreQuotedAsTheStandardSays() {
    CsvTable table = new CsvTable("one", "two");
    table.add("a,b", "say \"hi\"");
    table.add(" kept ", "two\r\nlines");

    assertEquals(
        "one,two\r\n\"a,b\",\"say \"\"hi\"\"\"\r\n\" kept \",\"two\r\nlines\"\r\n", table.text());
  }

  @Test
  @DisplayName("H1: every row has as many fields as there are columns (RFC 4180)")
  void everyRowHasAllFields() {
    CsvTable table = new CsvTable("one", "two");
    table.add(1, null);

    assertEquals("one,two\r\n1,\r\n", table.text());
    assertEquals(
        "A row of 1 cells does not fit a table of 2 columns; give one cell a column.",
        assertThrows(IllegalArgumentException.class, () -> table.add("one")).getMessage());
  }

  @Test
  @DisplayName("H2: text that starts like a formula gets an apostrophe (OWASP ASVS 1.2.10)")
  void textIsNeverAFormula() {
    for (String start : new String[] {"=", "+", "-", "@", "\t", "\r", "\0"}) {
      CsvTable table = new CsvTable("text");
      table.add(start + "1+1");
      String cell = table.text().substring("text\r\n".length());
      assertTrue(
          cell.startsWith("'" + start) || cell.startsWith("\"'" + start),
          () -> "not safe: " + cell);
    }
    CsvTable headings = new CsvTable("=evil");
    assertEquals("'=evil\r\n", headings.text());
  }

  @Test
  void whatIsNoNumberIsTextThatIsNoFormula() {
    Operand half = new Operand("half", FloatFormat.binary16());
    CsvTable table = new CsvTable("real");
    for (long code : new long[] {0xB800, 0xFC00, 0x7E00}) {
      table.add(CsvTable.real(half, BigInteger.valueOf(code)));
    }
    table.add(CsvTable.real(half, null));

    assertEquals("real\r\n-0.5\r\n'-Infinity\r\nNaN\r\n\"\"\r\n", table.text());
  }

  @Test
  @DisplayName(
      "H2: text is no formula where another separator begins a cell (OWASP, CSV Injection)")
  void textIsNoFormulaBehindAnotherSeparator() {
    CsvTable table = new CsvTable("text");
    table.add("x;=1+1");
    table.add("x;\"=1+1");
    table.add("x\n@a");
    table.add("x; y;z-1");

    assertEquals("text\r\nx;'=1+1\r\n\"x;\"\"'=1+1\"\r\n\"x\n'@a\"\r\nx; y;z-1\r\n", table.text());
  }

  @ParameterizedTest
  @ValueSource(strings = {",", ";", "\t", "\uFEFF,", "\uFEFF;"})
  void aTableSavedAgainByASpreadsheetIsRead(String saved) throws IOException {
    char separator = saved.charAt(saved.length() - 1);
    String mark = saved.substring(0, saved.length() - 1);
    Path file = folder.resolve("table.csv");
    Files.writeString(file, mark + "\"a,b\",c,d\r\n1,2,3\r\n".replace(',', separator));

    String first = "a,b".replace(',', separator);
    assertEquals(Map.of(first, "1", "c", "2", "d", "3"), CsvTable.read(file).get(0));
  }

  @Test
  @DisplayName("H2: numbers stay numbers, negative ones too (common practice, no source)")
  void numbersStayNumbers() {
    CsvTable table = new CsvTable("a", "b", "c");
    table.add(-5, -7_000_000_000L, CsvTable.number("-0.25"));

    assertEquals("a,b,c\r\n-5,-7000000000,-0.25\r\n", table.text());
    assertThrows(NumberFormatException.class, () -> CsvTable.number("=1"));
    assertThrows(NumberFormatException.class, () -> CsvTable.number("0,5"));
  }

  @Test
  void theLocaleMakesNoDifference() {
    Locale before = Locale.getDefault();
    try {
      Locale.setDefault(Locale.forLanguageTag("ar-EG"));
      CsvTable table = new CsvTable("a");
      table.add(1234567);
      assertEquals("a\r\n1234567\r\n", table.text());
    } finally {
      Locale.setDefault(before);
    }
  }

  @Test
  void whatIsWrittenIsReadBack() {
    CsvTable table = new CsvTable("bench", "facts");
    table.add("gear, train", "two\r\nlines");
    Path file = folder.resolve("deep").resolve("table.csv");
    table.writeTo(file);

    assertEquals(
        Map.of("bench", "gear, train", "facts", "two\r\nlines"), CsvTable.read(file).get(0));
  }

  @ParameterizedTest
  @ValueSource(strings = {",b\r\n1,2\r\n", "\r\n", "a,b\r\n\"1\"2,3\r\n"})
  void aTableThatIsNoneAnyMoreIsRefusedByItsName(String text) throws IOException {
    Path file = Files.writeString(folder.resolve("table.csv"), text);

    String message = assertThrows(ReportException.class, () -> CsvTable.read(file)).getMessage();

    assertTrue(message.startsWith("Table " + file + " could not be read: "), message);
  }

  @Test
  void aFileIsReplacedAsAWholeAndNothingElseIsLeft() throws IOException {
    Path file = folder.resolve("facts.txt");
    WholeFile.write(file, "first");
    WholeFile.write(file, "second");

    assertEquals("second", Files.readString(file));
    try (var files = Files.list(folder)) {
      assertEquals(1, files.count());
    }
  }

  @Test
  void aFileThatCannotBeWrittenLeavesWhatWasThere() throws IOException {
    Path file = folder.resolve("taken");
    Files.createDirectories(file.resolve("inside"));

    String message =
        assertThrows(ReportException.class, () -> WholeFile.write(file, "text")).getMessage();
    assertTrue(
        message.matches(
            "File \\Q"
                + file
                + "\\E could not be written: Is a directory for \\S+\\.part"
                + "\\. A folder with room and leave to write is needed\\."),
        message);
    try (var files = Files.list(folder)) {
      assertEquals(1, files.count(), "nothing is left aside");
    }
  }
}
