package dev.plumbline.samples;

import dev.plumbline.check.Bench;
import dev.plumbline.contract.Contract;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.stimulus.Stimulus;
import java.nio.file.Path;

/**
 * A sample block with what it is held to.
 *
 * @param name the bench's name in reports, such as {@code "reciprocal s16.16 exact"}
 * @param unit the top module
 * @param rtl the sources and parameters, below {@link SampleRtl#FOLDER}
 * @param contract ports, latency and reference
 * @param stimulus the cases
 */
record SampleBench(String name, String unit, RtlSource rtl, Contract contract, Stimulus stimulus) {

  /** The bench over the block as it stands. */
  Bench.Builder of(CompiledDesign model) {
    return Bench.of(model).named(name).contract(contract).stimulus(stimulus);
  }

  /** The same block, read from a copy of the RTL folder. */
  RtlSource rtlIn(Path folder) {
    RtlSource copy =
        RtlSource.of(folder.resolve(unit + ".sv"))
            .withTop(unit)
            .withIncludeFolder(folder)
            .withLibraryFolder(folder);
    for (var parameter : rtl.parameters().entrySet()) {
      copy = copy.withParameter(parameter.getKey(), parameter.getValue());
    }
    return copy;
  }

  @Override
  public String toString() {
    return name;
  }
}
