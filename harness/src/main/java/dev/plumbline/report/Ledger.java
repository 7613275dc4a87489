package dev.plumbline.report;

import com.google.gson.Gson;
import com.google.gson.GsonBuilder;
import com.google.gson.JsonParseException;
import dev.plumbline.evidence.ReportException;
import dev.plumbline.evidence.WholeFile;
import dev.plumbline.text.IoText;
import dev.plumbline.text.PlainText;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/**
 * {@code ledger.jsonl}: the verdicts of a run, one a line in JSON. It alone is read again when
 * another process adds to the run, so that a person or a spreadsheet may do what they like to the
 * tables. Whoever reads and writes it holds the {@link RunLock}.
 */
final class Ledger {
  static final String FILE = "ledger.jsonl";

  private static final Gson JSON = new GsonBuilder().disableHtmlEscaping().create();

  private Ledger() {}

  static List<LedgerEntry> read(Path run) {
    Path file = run.resolve(FILE);
    if (!Files.exists(file)) {
      return new ArrayList<>();
    }
    List<String> lines;
    try {
      lines = Files.readAllLines(file, StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw damaged(file + ": The ledger of the run could not be read: " + IoText.of(e), e);
    }
    List<LedgerEntry> entries = new ArrayList<>();
    for (String line : lines) {
      entries.add(entry(file + ":" + (entries.size() + 1), line));
    }
    return entries;
  }

  static LedgerEntry entry(String where, String line) {
    try {
      LedgerEntry entry = JSON.fromJson(line, LedgerEntry.class);
      if (entry == null || entry.bench() == null || entry.outcome() == null) {
        throw new JsonParseException("bench or outcome is missing");
      }
      return entry;
    } catch (RuntimeException e) {
      String why = PlainText.quoted(String.valueOf(e.getMessage())); // it quotes what it read
      throw damaged(where + ": This is no verdict in JSON: " + why, e);
    }
  }

  private static ReportException damaged(String what, Exception cause) {
    return new ReportException(
        what
            + ". The file has to be as Plumbline wrote it; remove it, and the run begins anew, or"
            + " name another run by property plumbline.run.",
        cause);
  }

  static void write(Path run, List<LedgerEntry> entries) {
    StringBuilder text = new StringBuilder();
    entries.forEach(entry -> text.append(JSON.toJson(entry)).append('\n'));
    WholeFile.write(run.resolve(FILE), text.toString());
  }
}
