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
public record SampleBench(
    String name, String unit, RtlSource rtl, Contract contract, Stimulus stimulus) {

  /**
   * The bench over a model of the block.
   *
   * @param model the block as it stands, or a copy of it
   * @return a bench that still has the standard cases and seed
   */
  public Bench.Builder of(CompiledDesign model) {
    return Bench.of(model).named(name).contract(contract).stimulus(stimulus);
  }

  /**
   * The same block, read from a copy of the RTL folder.
   *
   * @param folder the copy
   * @return sources and parameters
   */
  public RtlSource rtlIn(Path folder) {
    return SampleRtl.in(folder, unit, rtl.parameters());
  }

  @Override
  public String toString() {
    return name;
  }
}
