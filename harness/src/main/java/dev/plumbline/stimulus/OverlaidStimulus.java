package dev.plumbline.stimulus;

import dev.plumbline.models.datapath.Operand;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalLong;

/** Any stimulus with some operands drawn over what it gave them. */
final class OverlaidStimulus implements Stimulus {
  private final Stimulus base;
  private final Map<String, Generator> particular;

  OverlaidStimulus(Stimulus base, Map<String, Generator> particular) {
    this.base = base;
    this.particular = Map.copyOf(particular);
  }

  @Override
  public Stimulus with(String operand, Generator generator) {
    Map<String, Generator> more = new HashMap<>(particular);
    more.put(operand, generator);
    return new OverlaidStimulus(base, more);
  }

  @Override
  public OptionalLong size(List<Operand> operands) {
    return base.size(operands);
  }

  @Override
  public Source open(List<Operand> operands, long seed, long firstCase) {
    OperandStimulus.requireKnown(operands, particular);
    Source under = base.open(operands, RandomStream.derive(seed, -1), firstCase);
    List<Integer> positions = new ArrayList<>();
    List<Generator.Source> over = new ArrayList<>();
    for (int i = 0; i < operands.size(); i++) {
      Generator generator = particular.get(operands.get(i).name());
      if (generator != null) {
        positions.add(i);
        over.add(generator.open(operands.get(i).format(), RandomStream.derive(seed, i)));
      }
    }
    int[] at = positions.stream().mapToInt(Integer::intValue).toArray();
    Generator.Source[] sources = over.toArray(Generator.Source[]::new);
    return (columns, from, to) -> {
      under.fill(columns, from, to);
      for (int i = 0; i < at.length; i++) {
        sources[i].fill(columns[at[i]], from, to);
      }
    };
  }
}
