package dev.plumbline.evidence;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import dev.plumbline.check.VerdictSamples;
import dev.plumbline.evidence.Workbook.Cell;
import dev.plumbline.verdict.Verdict;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Opens real files in LibreOffice and looks at what it made of every cell. */
@Tag("thorough")
class SpreadsheetTest {
  @TempDir private Path folder;

  @Test
  @DisplayName(
      "H1, H2: a mismatch.csv with 64-bit codes opens in LibreOffice with every number intact")
  void aMismatchOpensWithEveryNumberIntact() throws Exception {
    Verdict verdict = VerdictSamples.wideCodes();
    Path file = EvidenceFolder.write(folder, verdict).resolve("mismatch.csv");
    List<Map<String, String>> written = CsvTable.read(file);
    Workbook opened = open(file);

    int codes = 0;
    int numbers = 0;
    for (int row = 0; row < written.size(); row++) {
      int column = 0;
      for (Map.Entry<String, String> cell : written.get(row).entrySet()) {
        String was = cell.getValue();
        Cell is = opened.at(row + 1, column++);
        boolean code = was.startsWith("0x");
        boolean text =
            code || was.isEmpty() || List.of("verdict", "signal").contains(cell.getKey());
        assertEquals(!text, is.number(), () -> cell + " became " + is);
        if (text) {
          assertEquals(was, is.value(), cell.getKey());
        } else {
          assertEquals(Double.parseDouble(was), Double.parseDouble(is.value()), cell.getKey());
        }
        codes += code ? 1 : 0;
        numbers += text ? 0 : 1;
      }
    }
    assertTrue(codes > 20 && numbers > 20, codes + " codes and " + numbers + " numbers");
  }

  @Test
  @DisplayName("H2: text that looks like a formula is text, a negative number is a number")
  void aFormulaIsText() throws Exception {
    CsvTable table = new CsvTable("bench", "number");
    table.add("=1+1", -5);
    table.add("@SUM(B1:B2)", 7);
    Path file = folder.resolve("table.csv");
    table.writeTo(file);
    Workbook opened = open(file);

    assertEquals(new Cell(false, "'=1+1"), opened.at(1, 0));
    assertEquals(new Cell(true, "-5"), opened.at(1, 1));
    assertEquals(new Cell(false, "'@SUM(B1:B2)"), opened.at(2, 0));
  }

  private Workbook open(Path csv) throws Exception {
    Path office = office();
    assumeTrue(
        office != null, "LibreOffice (soffice) is not on the PATH, so no file can be opened in it");
    Path sheets = Files.createDirectories(folder.resolve("sheets"));
    convert(office, "xlsx", sheets, csv);
    return new Workbook(sheets.resolve(csv.getFileName().toString().replace(".csv", ".xlsx")));
  }

  private void convert(Path office, String format, Path target, Path file)
      throws IOException, InterruptedException {
    List<String> command = new ArrayList<>();
    command.add(office.toString());
    command.add("-env:UserInstallation=" + folder.resolve("office").toUri());
    command.addAll(List.of("--headless", "--convert-to", format, "--outdir"));
    command.add(target.toString());
    command.add(file.toString());
    Process process =
        new ProcessBuilder(command)
            .redirectErrorStream(true)
            .redirectOutput(folder.resolve("office.txt").toFile())
            .start();
    if (!process.waitFor(3, TimeUnit.MINUTES)) {
      process.destroyForcibly();
      throw new IllegalStateException("LibreOffice did not come back within three minutes");
    }
    assertEquals(0, process.exitValue(), Files.readString(folder.resolve("office.txt")));
  }

  private static Path office() {
    return Stream.of(System.getenv("PATH").split(java.io.File.pathSeparator, -1))
        .map(place -> Path.of(place, "soffice"))
        .filter(Files::isExecutable)
        .findFirst()
        .orElse(null);
  }
}
