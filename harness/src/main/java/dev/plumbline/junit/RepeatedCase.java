package dev.plumbline.junit;

import dev.plumbline.verdict.KeptCase;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Verdict;
import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicBoolean;

/** The one case of property {@code plumbline.case}: says whether it is fixed or still wrong. */
final class RepeatedCase {
  private final String file;
  private final KeptCase kept;
  private final AtomicBoolean ran = new AtomicBoolean();

  RepeatedCase(String file, KeptCase kept) {
    this.file = file;
    this.kept = kept;
  }

  String file() {
    return file;
  }

  KeptCase kept() {
    return kept;
  }

  boolean hasRun() {
    return ran.get();
  }

  /** Whether it is of a test that drove its DUT by hand; then its rows are run again, once. */
  boolean isOf(String test) {
    return test.equals(kept.bench());
  }

  /** Says that it was run. */
  boolean runs() {
    return !ran.getAndSet(true);
  }

  /** Keeps what another keeps, and tells of the case. */
  Recorder telling(Recorder keeper) {
    return verdict -> {
      Optional<Path> folder = keeper.record(verdict);
      if (verdict.bench().equals(kept.bench())) {
        ran.set(true);
        System.out.println(file + ": " + words(verdict));
      }
      return folder;
    };
  }

  private String words(Verdict verdict) {
    if (verdict.isPass()) {
      return "fixed: nothing differs any more";
    }
    if (verdict.outcome() == Verdict.Outcome.DUT_ENDED) {
      return "still wrong: " + verdict.explanation().lines().findFirst().orElse("the DUT ended");
    }
    String now = verdict.first().map(each -> each.words() + " at " + each.signal()).orElse("");
    return now.isEmpty() || now.equals(kept.shows())
        ? "still wrong" + (now.isEmpty() ? "" : ": " + now)
        : "still wrong, in another way: " + now + "; it was " + kept.shows();
  }
}
