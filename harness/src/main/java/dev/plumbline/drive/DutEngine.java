package dev.plumbline.drive;

import dev.plumbline.cosim.Batch;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.cosim.DutOptions;
import dev.plumbline.cosim.InitialState;
import java.util.function.Consumer;

/** An engine over compiled RTL: a DUT and its batch. */
public final class DutEngine implements Engine {
  private final Dut dut;
  private final Batch batch;
  private Consumer<Dut> last = closing -> {};

  private DutEngine(Dut dut, Opening opening) {
    this.dut = dut;
    this.batch = dut.batch(opening.rows());
    opening
        .handshake()
        .ifPresent(
            wait ->
                batch.handshake(wait.valid(), wait.ready(), wait.byRow().toArray(String[]::new)));
  }

  public static Maker maker(CompiledDesign model, DutOptions options) {
    return new DutMaker(model, options);
  }

  static DutEngine open(CompiledDesign model, DutOptions options, Opening opening) {
    InitialState state =
        switch (opening.start()) {
          case ZEROS -> InitialState.ZEROS;
          case ONES -> InitialState.ONES;
          case RANDOM -> InitialState.RANDOM;
        };
    return new DutEngine(
        model.open(options.withInitialState(state).withSeed(opening.seed())), opening);
  }

  /** Passes the DUT before it is closed. */
  DutEngine beforeClose(Consumer<Dut> use) {
    last = use;
    return this;
  }

  Dut dut() {
    return dut;
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
  public int runStream(int rows, int first, int changed, int cases) {
    batch.resume(first, changed);
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
    last.accept(dut);
    dut.close();
    batch.release();
  }
}
