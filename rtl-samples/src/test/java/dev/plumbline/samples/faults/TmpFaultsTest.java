package dev.plumbline.samples.faults;

import java.nio.file.Path;
import org.junit.jupiter.api.Test;

class TmpFaultsTest {
  @Test
  void all() {
    String only = System.getProperty("plumbline.fault", "");
    for (var fault : SceneStreamFaults.all()) {
      if (!fault.name().contains(only)) continue;
      try {
        var v =
            new Planting(fault, Path.of("target", "planted", fault.name()).toAbsolutePath())
                .run(Planting.BRIEF, 1, Integer.getInteger("tmp.rays", 20000));
        System.out.println(
            "TMP "
                + fault.name()
                + " "
                + v.outcome()
                + " "
                + v.first()
                    .map(m -> m.words() + " " + m.signal() + " case " + m.caseNumber())
                    .orElse("")
                + " s="
                + v.seconds());
      } catch (RuntimeException e) {
        System.out.println("TMP " + fault.name() + " " + e.toString().lines().limit(12).toList());
      }
    }
  }
}
