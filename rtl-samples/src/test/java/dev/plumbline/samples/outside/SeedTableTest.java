package dev.plumbline.samples.outside;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.samples.Command;
import dev.plumbline.samples.SampleRtl;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

@Tag("thorough")
final class SeedTableTest {
  private static final Path TABLE = SampleRtl.FOLDER.resolve("reciprocal_seed_pkg.svh");
  private static final Pattern ENTRY = Pattern.compile("(?:8'd(\\d+)|default): seed = 11'd(\\d+);");

  @Test
  void theTableIsWhatItsToolWrites() {
    assertEquals(new Command.Outcome(0, ""), check(TABLE));
  }

  @Test
  void aChangedTableIsReported(@TempDir Path folder) throws IOException {
    Path changed = folder.resolve("table.svh");
    Files.writeString(changed, Files.readString(TABLE).replace("11'd1471", "11'd1470"));

    Command.Outcome outcome = check(changed);

    assertEquals(1, outcome.status());
    assertEquals(
        changed + " is not what ReciprocalSeedTable.java writes; run it again.\n",
        outcome.output());
  }

  /**
   * Das Sarma and Matula, IEEE Transactions on Computers 43(8), 1994: an entry is the reciprocal of
   * its interval's midpoint, to nearest. So r (2(256+i)+1) is within half a divisor of 2^20.
   */
  @Test
  void everyEntryIsNearestToTheReciprocalOfItsMidpoint() throws IOException {
    Matcher entries = ENTRY.matcher(Files.readString(TABLE));
    int count = 0;
    while (entries.find()) {
      assertEquals(count == 255 ? null : String.valueOf(count), entries.group(1));
      long divisor = 2L * (256 + count) + 1;
      long miss = Math.abs(Long.parseLong(entries.group(2)) * divisor - (1L << 20));
      assertTrue(2 * miss <= divisor, "entry " + count);
      count++;
    }
    assertEquals(256, count);
  }

  private static Command.Outcome check(Path table) {
    Path tool = SampleRtl.FOLDER.resolveSibling("tools").resolve("ReciprocalSeedTable.java");
    Path java = Path.of(System.getProperty("java.home"), "bin", "java");
    return Command.run(
        SampleRtl.FOLDER, List.of(java.toString(), tool.toString(), "--check", table.toString()));
  }
}
