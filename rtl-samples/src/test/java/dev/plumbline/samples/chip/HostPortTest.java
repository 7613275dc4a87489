package dev.plumbline.samples.chip;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.stimulus.RandomStream;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** The host port with memories behind it, over its bus. */
class HostPortTest {
  private static final CompiledDesign MODEL = ChipBlock.inBench("host_memories");

  @Test
  @DisplayName("K2, K3: registers take, keep and clear what their access says, each alone")
  void registersAreAsDeclared() {
    HostChecks.registersAreAsDeclared(MODEL, 1);
  }

  @Test
  @DisplayName("K2, K3: accesses by chance, with events in any cycle")
  void anyAccessAfterAnyOther() {
    HostChecks.anyAccessAfterAnyOther(MODEL, 3_000, ChipBlock.SEED);
  }

  @Test
  @Tag("thorough")
  @DisplayName("K2, K3: the same, a million accesses")
  void aMillionAccessesOneAfterTheOther() {
    for (int i = 0; i < 20; i++) {
      HostChecks.anyAccessAfterAnyOther(MODEL, 50_000, RandomStream.derive(ChipBlock.SEED, i));
    }
  }

  @Test
  void onlyWhatIsThereAnswers() {
    HostChecks.onlyWhatIsThereAnswers(MODEL, 2);
  }

  @Test
  @DisplayName("K2: one clears, set wins, interrupts by enabled flags; pulses are of one cycle")
  void pulsesAndFlags() {
    HostChecks.pulsesAndFlags(MODEL, 3);
  }

  @Test
  void busyRefusesAndLosesNothing() {
    HostChecks.busyRefusesAndLosesNothing(MODEL, 4);
  }

  @Test
  void countersAreReadWhole() {
    HostChecks.countersAreReadWhole(MODEL, 5);
  }

  @Test
  void settingsReachTheirPorts() {
    HostChecks.settingsReachTheirPorts(MODEL, 6);
  }

  /** Arithmetic; the residue codes are Rao's, IEEE Transactions on Computers C-19, 1970. */
  @Test
  @DisplayName("K4: the multiplier's corners, signed and unsigned")
  void multiplierCorners() {
    HostChecks.multiplierCorners(MODEL, 7);
  }

  @Test
  @DisplayName("K4: products, residues and sums over all multipliers")
  void multiplierSums() {
    HostChecks.multiplierSums(MODEL, 4, ChipBlock.SEED);
  }

  @Test
  @Tag("thorough")
  @DisplayName("K4: the same for 32 multiplicands, 2,097,152 products, or 16,777,216 at night")
  void multiplierSumsOfMillions() {
    int multiplicands = Boolean.getBoolean("plumbline.long") ? 256 : 32;
    HostChecks.multiplierSums(MODEL, multiplicands, ChipBlock.SEED);
  }

  /** A. van de Goor, Testing Semiconductor Memories, 1991. */
  @Test
  @DisplayName("K1, K3: March C- over 32 words of the program, the palette and the table")
  void memoriesPassMarchC() {
    HostChecks.memoriesPassMarchC(MODEL, 32, 8);
  }

  @Test
  @Tag("thorough")
  @DisplayName("K1, K3: March C- over the whole program")
  void theWholeProgramPassesMarchC() {
    HostChecks.memoriesPassMarchC(MODEL, 1024, 9);
  }
}
