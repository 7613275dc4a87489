package dev.plumbline.drive;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.DutOptions;
import dev.plumbline.cosim.Oscillation;
import dev.plumbline.cosim.Watch;
import dev.plumbline.rtl.Signal;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;

/** Opens DUTs of a compiled design, and of its probe build where they are looked into. */
record DutMaker(CompiledDesign model, DutOptions options) implements Engine.Maker {
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
          opened.accept(engine.dut().watchAll(firstCycle, cycles));
          return engine;
        });
  }

  /** The probe build, and what it says of its signals. */
  @Override
  public void preparesToWatch() {
    Thread thread =
        new Thread(
            () -> {
              try {
                model.withInternals().signals();
              } catch (RuntimeException e) {
                // whoever looks inside is told
              }
            },
            "plumbline-probe");
    thread.setDaemon(true);
    thread.start();
  }

  @Override
  public List<String> oscillating(Consumer<Engine.Maker> run) {
    return Oscillation.of(
        model,
        (probe, end) ->
            run.accept(opening -> DutEngine.open(probe, options, opening).beforeClose(end)));
  }

  @Override
  public Optional<List<String>> signals() {
    return Optional.of(model.signals().all().stream().map(Signal::path).toList());
  }

  @Override
  public Map<String, List<String>> sources() {
    return model.withInternals().signals().sources();
  }
}
