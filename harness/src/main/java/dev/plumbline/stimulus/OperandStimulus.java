package dev.plumbline.stimulus;

import dev.plumbline.models.datapath.Operand;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** {@link Stimulus#each}, with other generators for some operands. */
final class OperandStimulus implements Stimulus {
  private final Generator common;
  private final Map<String, Generator> particular;

  OperandStimulus(Generator common, Map<String, Generator> particular) {
    this.common = common;
    this.particular = Map.copyOf(particular);
  }

  @Override
  public Stimulus with(String operand, Generator generator) {
    Map<String, Generator> more = new HashMap<>(particular);
    more.put(operand, generator);
    return new OperandStimulus(common, more);
  }

  @Override
  public Source open(List<Operand> operands, long seed, long firstCase) {
    requireKnown(operands, particular);
    Generator.Source[] sources = new Generator.Source[operands.size()];
    for (int i = 0; i < sources.length; i++) {
      Operand operand = operands.get(i);
      sources[i] =
          particular
              .getOrDefault(operand.name(), common)
              .open(operand.format(), RandomStream.derive(seed, i));
    }
    return (columns, from, to) -> {
      for (int i = 0; i < sources.length; i++) {
        sources[i].fill(columns[i], from, to);
      }
    };
  }

  static void requireKnown(List<Operand> operands, Map<String, Generator> particular) {
    List<String> names = operands.stream().map(Operand::name).toList();
    for (String name : particular.keySet().stream().sorted().toList()) {
      if (!names.contains(name)) {
        throw new IllegalArgumentException(
            "A generator is given for operand \""
                + name
                + "\", which there is not; there are "
                + String.join(", ", names)
                + ".");
      }
    }
  }
}
