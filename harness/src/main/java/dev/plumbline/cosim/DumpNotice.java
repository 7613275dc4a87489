package dev.plumbline.cosim;

import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;

/**
 * {@code $dumpvars} in the RTL writes nothing here, of which Verilator's model says so only in its
 * own text, and names an option that is not its user's to give.
 */
final class DumpNotice {
  private static final String THEIRS = "as Verilated without --trace";

  private static final String INSTEAD =
      "since waveforms are kept on request: -Dplumbline.waveform=FIRST-LAST";

  /** Content hashes of the designs of which it was reported. */
  private static final Set<String> REPORTED = ConcurrentHashMap.newKeySet();

  private DumpNotice() {}

  /** What a model printed, with what to use instead. */
  static String in(String text) {
    return text.replace(THEIRS, INSTEAD);
  }

  /** Tells the user once for each design. */
  static void tell(CompiledDesign model, LiveDesign instance) {
    if (REPORTED.add(model.contentHash()) && instance.text().contains(THEIRS)) {
      System.err.println(
          "Plumbline: $dumpvars of module "
              + model.design().top()
              + " writes nothing, "
              + INSTEAD
              + ", or waveform = \"FIRST-LAST\" of @DesignUnderTest; a test that fails leaves"
              + " waveform.vcd by itself");
    }
  }
}
