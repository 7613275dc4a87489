package dev.plumbline.run;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.cosim.DutOptions;
import dev.plumbline.cosim.Watch;
import dev.plumbline.rtl.PortLayout;
import dev.plumbline.rtl.Signal;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;

/** Opens DUTs of a compiled design, and of its probe build where they are looked into. */
record DutMaker(CompiledDesign model, DutOptions options) implements Engine.Maker {
  /** Elements of an array that are recorded; larger ones are memories, and left out. */
  private static final int MOST_ELEMENTS = 64;

  /** Words recorded at most, of 8 bytes. */
  private static final int MOST_WORDS = 8 << 20;

  @Override
  public Engine open(Engine.Opening opening) {
    return DutEngine.open(model, options, opening);
  }

  @Override
  public Optional<Engine.Maker> watching(long firstCycle, int cycles, Consumer<Watch> opened) {
    CompiledDesign probe = model.withInternals();
    return Optional.of(
        opening -> {
          DutEngine engine = DutEngine.open(probe, options, opening);
          opened.accept(watch(engine.dut(), firstCycle, cycles));
          return engine;
        });
  }

  @Override
  public Map<String, List<String>> sources() {
    return model.withInternals().signals().sources();
  }

  private static Watch watch(Dut dut, long firstCycle, int cycles) {
    List<String> names = new ArrayList<>();
    int words = 0;
    for (Signal signal : dut.signals()) {
      long more = signal.elements() * signal.words();
      if (signal.elements() > MOST_ELEMENTS
          || (words + more) * Math.min(cycles, 256) > MOST_WORDS) {
        continue;
      }
      words += (int) more;
      names.addAll(PortLayout.elements(signal.path(), signal.unpacked()));
    }
    return dut.watch(names, firstCycle, Math.min(cycles, MOST_WORDS / Math.max(1, words)));
  }
}
