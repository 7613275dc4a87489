package dev.plumbline.samples.faults;

import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Verdict;
import java.nio.file.Path;
import java.util.Optional;

/** Keeps the last verdict and writes nothing. */
final class KeptVerdict implements Recorder {
  private final boolean inside;
  private Verdict verdict;

  /** With what is inside around a mismatch, or without. */
  KeptVerdict(boolean inside) {
    this.inside = inside;
  }

  Verdict verdict() {
    return verdict;
  }

  @Override
  public Optional<Path> record(Verdict recorded) {
    verdict = recorded;
    return Optional.empty();
  }

  @Override
  public boolean keepsInside() {
    return inside;
  }
}
