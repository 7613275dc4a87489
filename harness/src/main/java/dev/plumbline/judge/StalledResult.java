package dev.plumbline.judge;

import dev.plumbline.drive.OutputCheck;

/** The result that a consumer who was not ready has been shown. */
final class StalledResult {
  private final long[][] words; // check, word

  StalledResult(OutputCheck[] checks) {
    words = new long[checks.length][];
    for (int c = 0; c < checks.length; c++) {
      words[c] = new long[checks[c].words()];
    }
  }

  /** Whether what stands at a row is another. */
  boolean isOther(int row, long[][][] got) {
    for (int c = 0; c < words.length; c++) {
      for (int word = 0; word < words[c].length; word++) {
        if (got[c][word][row] != words[c][word]) {
          return true;
        }
      }
    }
    return false;
  }

  void keep(int row, long[][][] got) {
    for (int c = 0; c < words.length; c++) {
      for (int word = 0; word < words[c].length; word++) {
        words[c][word] = got[c][word][row];
      }
    }
  }
}
