package dev.plumbline.run;

import dev.plumbline.contract.Contract;
import dev.plumbline.cosim.Batch;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.cosim.DutOptions;
import dev.plumbline.cosim.InitialState;
import java.util.stream.Stream;

/** An engine over compiled RTL: a DUT and its batch. */
public final class DutEngine implements Engine {
  private final Dut dut;
  private final Batch batch;

  private DutEngine(Dut dut, Contract contract) {
    this.dut = dut;
    this.batch = dut.batch(Feed.BLOCK);
    Contract.Flow flow = contract.flow();
    if (flow.inReady() != null) {
      String[] byRow =
          Stream.of(contract.reset().port(), flow.outReady())
              .filter(port -> port != null)
              .toArray(String[]::new);
      batch.handshake(flow.inValid(), flow.inReady(), byRow);
    }
  }

  public static Maker maker(CompiledDesign model, DutOptions options) {
    return (start, seed, contract) -> {
      InitialState state =
          switch (start) {
            case ZEROS -> InitialState.ZEROS;
            case ONES -> InitialState.ONES;
            case RANDOM -> InitialState.RANDOM;
          };
      return new DutEngine(model.open(options.withInitialState(state).withSeed(seed)), contract);
    };
  }

  @Override
  public long[] column(String port, int word) {
    return batch.column(port, word);
  }

  @Override
  public void run(int rows) {
    dut.run(batch, rows);
  }

  @Override
  public int runStream(int rows, int cases) {
    dut.run(batch, rows, cases);
    return batch.accepted();
  }

  @Override
  public int[] caseAtRow() {
    return batch.caseAtRow();
  }

  @Override
  public String text() {
    return dut.text();
  }

  @Override
  public void close() {
    dut.close();
  }
}
