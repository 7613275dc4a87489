package dev.plumbline.drive;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.stimulus.RandomStream;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;

/** Draws cases of a segment again: neither a DUT nor a reference has to run for it. */
public final class CaseDrawing {
  private final Binding binding;
  private final Settings settings;

  public CaseDrawing(Binding binding, Settings settings) {
    this.binding = binding;
    this.settings = settings;
  }

  /** The operands of a case, which is counted in the segment. */
  public List<BigInteger> operands(Segment segment, long number) {
    List<Operand> operands = binding.contract().reference().inputs();
    long[][][] columns = new long[operands.size()][][];
    for (int i = 0; i < columns.length; i++) {
      columns[i] = new long[operands.get(i).format().words()][Feed.BLOCK];
    }
    RandomStream noise = RandomStream.of(segment.seedOf(Segment.Use.BUBBLES));
    RowContents contents = RowContents.of(binding, settings, segment, noise, new KeptSource());
    int last = 0;
    for (long drawn = 0; drawn <= number; drawn += last) {
      last = (int) Math.min(Feed.BLOCK, number + 1 - drawn);
      contents.cases(columns, last);
    }
    List<BigInteger> codes = new ArrayList<>();
    for (int i = 0; i < columns.length; i++) {
      codes.add(Hookup.code(operands.get(i), columns[i], last - 1));
    }
    return codes;
  }
}
