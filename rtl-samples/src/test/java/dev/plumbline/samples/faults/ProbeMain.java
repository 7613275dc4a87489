package dev.plumbline.samples.faults;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.faults.Fault;
import dev.plumbline.rtl.Signals;
import dev.plumbline.verdict.*;
import java.nio.file.Path;
import java.util.*;
import java.util.stream.*;

public class ProbeMain {
  public static void main(String[] args) throws Exception {
    int right = 0, named = 0, all = 0;
    List<Fault> them =
        new ArrayList<>(Stream.of(SceneFaults.all(), SceneStreamFaults.all())
            .flatMap(List::stream)
            .filter(f -> java.util.regex.Pattern.compile(args[0]).matcher(f.name()).find())
            .toList());
    if (Boolean.getBoolean("rev")) Collections.reverse(them);
    for (Fault fault : them) {
      long t0 = System.nanoTime();
      Verdict[] kept = new Verdict[1];
      Planting planting =
          new Planting(fault, Path.of("/tmp/scenestages-planted").resolve(fault.name()))
              .recorder(
                  new Recorder() {
                    @Override
                    public Optional<Path> record(Verdict verdict) {
                      kept[0] = verdict;
                      return Optional.empty();
                    }

                    @Override
                    public boolean keepsInside() {
                      return true;
                    }
                  });
      if (planting.run(Planting.BRIEF, 1, 1500).outcome() != Verdict.Outcome.MISMATCH) {
        planting.run(Planting.BRIEF, 1, 20000);
      }
      Signals signals =
          CompiledDesign.of(planting.copy(), Planting.BRIEF).withInternals().signals();
      Set<String> of = FaultySignals.of(fault, ExplainedFaultsTest.files(), signals);
      Set<String> behind = FaultySignals.directlyBehind(of, signals);
      Optional<Stage> stage =
          kept[0].findings().inside().stages().stream()
              .filter(s -> s.relation() == Stage.Relation.DIFFERS)
              .findFirst();
      boolean is = stage.isPresent() && behind.contains(stage.get().signal());
      all++;
      named += stage.isPresent() ? 1 : 0;
      right += is ? 1 : 0;
      System.out.printf(
          "%s %s [%s] %.1fs %s%n",
          is ? "RIGHT" : stage.isPresent() ? "WRONG" : "NONE ",
          fault.name(),
          kept[0].findings().kept().stream().map(m -> m.kind() + "@" + m.cycle() + " " + m.signal()).findFirst().orElse("-"),
          (System.nanoTime() - t0) / 1e9,
          stage.map(s -> s.step().name() + " " + s.signal() + " : " + s.how()).orElse(kept[0].findings().inside().facts().toString()));
      if (!is) System.out.println("      wanted " + of.stream().map(x->x.replaceAll("^scene_executor.contexts.","")).limit(6).toList());
    }
    System.out.println(all + " named " + named + " right " + right);
  }
}
