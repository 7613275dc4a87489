package dev.plumbline.evidence;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.verdict.KeptCase;
import java.math.BigInteger;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** A kept case as text and back; spoilt files are refused with the place. */
@Execution(ExecutionMode.CONCURRENT)
class CaseFileTest {
  private static final KeptCase KEPT =
      new KeptCase(
          "=moon dial",
          "dial",
          Map.of("W", "16"),
          "phase",
          "value wrong at out_phase",
          -7,
          KeptCase.Start.RANDOM,
          2,
          List.of(KeptCase.Column.port("rst"), KeptCase.Column.of("angle", Format.signed(8, 8))),
          List.of(
              Arrays.asList(BigInteger.ONE, null),
              Arrays.asList(BigInteger.ZERO, BigInteger.valueOf(-384))));

  private static final String TEXT =
      String.join(
          "\r\n",
          "bench,'=moon dial,,",
          "module,dial,,",
          "parameters,W=16,,",
          "reference,phase,,",
          "shows,value wrong at out_phase,,",
          "seed,0xfffffffffffffff9,,",
          "initial state,random 2,,",
          "cycle,rst,angle,angle (real)",
          "0,1,,",
          "1,0,0xfe80,-1.5",
          "");

  @Test
  void isReadableAndOfOneWidth() {
    assertEquals(TEXT, CaseFile.text(KEPT));
  }

  @Test
  void isReadBackButForTheFormats() {
    KeptCase read = CaseFile.parse(TEXT, "case-1.csv");
    assertEquals("=moon dial", read.bench());
    assertEquals(Map.of("W", "16"), read.parameters());
    assertEquals(-7, read.seed());
    assertEquals(KeptCase.Start.RANDOM, read.start());
    assertEquals(2, read.state());
    assertEquals(
        List.of("rst", "angle"), read.columns().stream().map(KeptCase.Column::name).toList());
    assertEquals(Arrays.asList(BigInteger.ONE, null), read.cycles().get(0));
    assertEquals(
        Arrays.asList(BigInteger.ZERO, BigInteger.valueOf(0xfe80)),
        read.cycles().get(1),
        "bits, whose sign is the operand's");
  }

  private static void refused(String from, String to, String message) {
    assertTrue(TEXT.contains(from), from);
    ReportException thrown =
        assertThrows(
            ReportException.class, () -> CaseFile.parse(TEXT.replace(from, to), "case-1.csv"));
    assertEquals(message, thrown.getMessage());
  }

  @Test
  void spoiltFilesAreRefusedWithThePlace() {
    refused(
        "0xfe80",
        "0xfez0",
        "case-1.csv:10: column angle has \"0xfez0\"; allowed is a code, such as 0x1f or 31, or"
            + " nothing. Mend it, or take the file that was written.");
    refused(
        "module,",
        "modul,",
        "case-1.csv:2: row \"modul\" is not known; allowed is bench, initial state, module,"
            + " parameters, reference, seed, shows, then a row that begins with cycle. Mend it, or"
            + " take the file that was written.");
    refused(
        "seed,0xfffffffffffffff9",
        "seed,x",
        "Case case-1.csv has seed \"x\"; a whole number of 64 bits is needed. Mend it.");
    refused(
        "random 2",
        "noise",
        "Case case-1.csv has initial state \"noise\"; zeros, ones, or random and a number are"
            + " allowed. Mend it.");
    refused(
        "reference,phase,,\r\n",
        "",
        "Case case-1.csv has no row \"reference\"; one with a label and what it says is needed."
            + " Take the file that was written.");
    refused(
        "rst,angle,angle (real)",
        "rst,rst,",
        "case-1.csv:8: two columns have one name; allowed is one column a port or operand. Mend"
            + " it, or take the file that was written.");
  }

  @Test
  void aFileThatIsNotThereIsNamed(@TempDir Path folder) {
    Path file = folder.resolve("case-9.csv");
    ReportException thrown = assertThrows(ReportException.class, () -> CaseFile.read(file));
    assertTrue(
        thrown.getMessage().startsWith("Case " + file + " could not be read: "),
        thrown::getMessage);
  }
}
